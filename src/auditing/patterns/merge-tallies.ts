import { addAmount, addCount, type Count, cellsOf, type Tally } from './tally.ts';
import { startTally } from './tally-jobs.ts';

/**
 * Two tallies of different jobs as one; neither is changed.
 * @throws RangeError where they are not counted by the same
 */
export function mergeTallies(one: Tally, other: Tally): Tally {
  if (one.by !== other.by) throw new RangeError(`Counted by ${one.by} and by ${other.by}.`);
  const whole = startTally(one.by);
  for (const tally of [one, other]) {
    for (const [code, table] of whole.counts) {
      for (const [subject, kind, cell] of cellsOf<Count>(tally.counts.get(code) ?? new Map())) {
        addCount(table, subject, kind, cell);
      }
    }
    for (const [subject, kind, cell] of cellsOf(tally.amounts)) {
      addAmount(whole.amounts, subject, kind, cell);
    }
  }
  return whole;
}
