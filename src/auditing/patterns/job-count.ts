import type { Cents } from '../../pricing/index.ts';
import type { MeasureCode } from './measures.ts';

/** One job as far as it is counted: a small row, so that a million of them can pass by. */
export interface JobCount {
  /** Who did the work; of several the one who closed the job. */
  readonly technicianId: string | null;
  readonly callTakerId: string | null;
  /** What was sold and done; a job counts for a task, or for a kind of part, only where it had no other. */
  readonly taskCodes: readonly string[];
  readonly partCategories: readonly string[];
  /** Local month, such as 2026-07. */
  readonly month: string;
  /** The kind of job, as it was known before anybody came: no cooling, water, maintenance. */
  readonly work: string;
  /** Whole years; null where nobody knows. */
  readonly systemAgeYears: number | null;
  /** Whether it happened; absent where it could not have, as a reset billed on a job without one. */
  readonly answers: Readonly<Partial<Record<MeasureCode, boolean>>>;
  /** Before tax. */
  readonly billedCents: Cents;
}
