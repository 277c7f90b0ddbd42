import { cents } from '../pricing/index.ts';
import { PRICE_RULES, type SeenJob } from './count-jobs.ts';
import type { PricedJob } from './price-spread.ts';

/** What a job was charged beside what it comes to, as far as its flags say. */
export function pricedJob({
  ticketId,
  ticketNumber,
  count,
  leftCents,
  ...job
}: SeenJob): PricedJob {
  const atMost = leftCents - job.openCents;
  return {
    ...{ ticketId, ticketNumber, technicianId: count.technicianId },
    taskCode: taskOf(count.taskCodes),
    chargedCents: leftCents,
    atMostCents: cents(atMost),
    computedCents: cents(Math.max(0, Math.min(atMost, leftCents - job.adjustedCents))),
    wasPutRight: job.flags.some(({ state, overCents }) => state === 'accepted' && overCents > 0),
    isJudged: !job.cannotJudge.some(({ ruleCode }) => PRICE_RULES.includes(ruleCode)),
  };
}

/** Nothing, one thing, or several; see `PricedJob`. */
function taskOf(codes: readonly string[]): string | null {
  const [only = '', ...others] = new Set(codes);
  return others.length > 0 ? null : only;
}
