import { addToTally, dimensions, startTally, type Tally } from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { cents } from '../pricing/index.ts';
import { countJobs, type SeenJob } from './count-jobs.ts';
import type { Period } from './period.ts';
import { addPrice, type PricedJob, type PriceSpread, startSpread } from './price-spread.ts';

/** What one look at all jobs of a period gives. */
export interface SeenJobs {
  readonly jobs: number;
  readonly billedCents: number;
  readonly openCents: number;
  readonly tallies: readonly Tally[];
  readonly prices: PriceSpread;
  readonly toLookAt: JobsToLookAt;
}

export interface JobsToLookAt {
  /** All on which a flag waits for an answer. */
  readonly jobs: number;
  /** The first to open: whatever comes to most, and of what comes to nothing the newest. */
  readonly first: readonly SeenJob[];
}

/**
 * Looks at every job of a period once, whatever it is counted by; none is kept but the first to open
 * and those that are above their price.
 * @param tolerance of the policy, by which a price may be above what was computed
 */
export async function seeJobs(sql: Sql, period: Period, tolerance: number): Promise<SeenJobs> {
  const tallies = dimensions.map((by) => startTally(by));
  const prices = startSpread(tolerance);
  const sums = { jobs: 0, billedCents: 0, openCents: 0, toLookAt: 0 };
  let first: SeenJob[] = [];
  for await (const job of countJobs(sql, period)) {
    for (const tally of tallies) addToTally(tally, job.count);
    addPrice(prices, pricedJob(job));
    sums.jobs += 1;
    sums.billedCents += job.billedCents;
    sums.openCents += job.openCents;
    if (job.openRules.length === 0) continue;
    sums.toLookAt += 1;
    first = [...first, job].sort(mostFirst).slice(0, FIRST_MAX);
  }
  const { toLookAt, ...whole } = sums;
  return { ...whole, tallies, prices, toLookAt: { jobs: toLookAt, first } };
}

/** As many as somebody opens before lunch. */
const FIRST_MAX = 12;

function mostFirst(one: SeenJob, other: SeenJob): number {
  return (
    other.openCents - one.openCents ||
    other.endedAt.getTime() - one.endedAt.getTime() ||
    other.ticketNumber - one.ticketNumber
  );
}

function pricedJob({ ticketId, ticketNumber, count, leftCents, ...job }: SeenJob): PricedJob {
  const atMost = leftCents - job.openCents;
  return {
    ...{ ticketId, ticketNumber, technicianId: count.technicianId },
    taskCode: taskOf(count.taskCodes),
    chargedCents: leftCents,
    atMostCents: cents(atMost),
    computedCents: cents(Math.max(0, Math.min(atMost, leftCents - job.adjustedCents))),
  };
}

/** Nothing, one thing, or several; see `PricedJob`. */
function taskOf(codes: readonly string[]): string | null {
  const [only = '', ...others] = new Set(codes);
  return others.length > 0 ? null : only;
}
