import { addToTally, dimensions, startTally, type Tally } from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { countJobs, type SeenFlag, type SeenJob } from './count-jobs.ts';
import type { Period } from './period.ts';
import { addPrice, type PriceSpread, startSpread } from './price-spread.ts';
import { pricedJob } from './priced-job.ts';
import { addToRules, type RuleTally, startRules } from './rule-tally.ts';

/** What one look at all jobs of a period gives. */
export interface SeenJobs {
  readonly jobs: number;
  readonly billedCents: number;
  readonly openCents: number;
  readonly tallies: readonly Tally[];
  readonly prices: PriceSpread;
  readonly rules: RuleTally;
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
  const rules = startRules();
  const sums = { jobs: 0, billedCents: 0, openCents: 0, toLookAt: 0 };
  let first: SeenJob[] = [];
  for await (const job of countJobs(sql, period)) {
    for (const tally of tallies) addToTally(tally, job.count);
    addPrice(prices, pricedJob(job));
    addToRules(rules, job);
    sums.jobs += 1;
    sums.billedCents += job.billedCents;
    sums.openCents += job.openCents;
    if (openFlags(job).length === 0) continue;
    sums.toLookAt += 1;
    first = [...first, job].sort(mostFirst).slice(0, FIRST_MAX);
  }
  const { toLookAt, ...whole } = sums;
  return { ...whole, tallies, prices, rules, toLookAt: { jobs: toLookAt, first } };
}

/** The flags of a job that wait for an answer, whatever comes to most first. */
export function openFlags({ flags }: Pick<SeenJob, 'flags'>): SeenFlag[] {
  return flags.filter(({ state }) => state === 'open');
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
