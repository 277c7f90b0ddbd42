import { type Cents, cents } from '../pricing/index.ts';

/** What one job was charged, beside what it comes to. */
export interface PricedJob {
  readonly ticketId: string;
  readonly ticketNumber: number;
  readonly technicianId: string | null;
  /** What was done; null where it was several things, nothing for a visit alone. */
  readonly taskCode: string | null;
  /** All of it, tax included, less what was given back. */
  readonly chargedCents: Cents;
  /** What it comes to at most: what was charged, less what its flags ask to give back. */
  readonly atMostCents: Cents;
  /** That without what was added by hand. */
  readonly computedCents: Cents;
  /** Money was given back for a flag that the owner agreed to. */
  readonly wasPutRight: boolean;
  /** Every rule about prices could be held against it. */
  readonly isJudged: boolean;
}

/** The prices of many jobs by kind of work; of those at a fair price none is kept. */
export interface PriceSpread {
  readonly tolerance: number;
  readonly works: Map<string | null, WorkPrices>;
}

export interface WorkPrices {
  /** All with a charge: at a fair price, above it, put right since, and those nobody could judge. */
  jobs: number;
  /** From the lowest that a job at a fair price comes to, to the highest and the tolerance; null without one. */
  lowCents: number | null;
  highCents: number | null;
  /** Jobs at a fair price, by the step of the scale on which it lies. */
  readonly fair: Map<number, number>;
  readonly above: PricedJob[];
  /** Jobs that were not billed at a fair price, and are put right. */
  putRight: number;
  /** Jobs of which nobody knows. */
  notJudged: number;
}

export function startSpread(tolerance: number): PriceSpread {
  return { tolerance, works: new Map() };
}

/** Adds one more job to a spread, which is changed by it. A job without a charge has no price. */
export function addPrice({ tolerance, works }: PriceSpread, job: PricedJob): void {
  const { taskCode, chargedCents, atMostCents, computedCents } = job;
  if (chargedCents <= 0) return;
  const work = works.get(taskCode) ?? emptyWork();
  works.set(taskCode, work);
  work.jobs += 1;
  if (chargedCents > atMostCents) {
    work.above.push(job);
    return;
  }
  if (job.wasPutRight) {
    work.putRight += 1;
    return;
  }
  if (!job.isJudged) {
    work.notJudged += 1;
    return;
  }
  work.lowCents = Math.min(work.lowCents ?? computedCents, computedCents);
  // The edge of a band that is drawn; what is too much is counted exactly, by the rules.
  const highCents = Math.round(computedCents * (1 + tolerance));
  work.highCents = Math.max(work.highCents ?? highCents, highCents);
  const step = stepOf(chargedCents);
  work.fair.set(step, (work.fair.get(step) ?? 0) + 1);
}

/** Each step of the scale is a twentieth wider than the one before: as fine at $90 as at $9,000. */
const STEP_RATIO = 1.05;

/** The amounts from one step to the next. */
export function endsOfStep(step: number): { fromCents: Cents; toCents: Cents } {
  const start = (at: number) => cents(Math.ceil(STEP_RATIO ** at));
  return { fromCents: start(step), toCents: start(step + 1) };
}

function stepOf(amountCents: number): number {
  return Math.floor(Math.log(amountCents) / Math.log(STEP_RATIO) + 1e-9);
}

function emptyWork(): WorkPrices {
  const counts = { jobs: 0, putRight: 0, notJudged: 0 };
  return { ...counts, lowCents: null, highCents: null, fair: new Map(), above: [] };
}
