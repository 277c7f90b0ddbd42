import { type MeasureCode, measureWords, shareInterval, type Tally } from '../auditing/index.ts';
import type { AuditReport } from './contract.ts';

/**
 * Every measure over all jobs together, good and otherwise, whoever was there: a job has one month, so
 * the months hold each once. What is not counted by month is counted by technician, where there was
 * one.
 */
export function sharesOf(tallies: readonly Tally[]): AuditReport['shares'] {
  const counts = new Map(
    ['technician', 'call_taker', 'month'].flatMap((by) => [
      ...(tallies.find((tally) => tally.by === by)?.counts ?? []),
    ]),
  );
  return [...counts].map(([measure, table]) => {
    const cells = [...table.values()].flatMap((kinds) => [...kinds.values()]);
    const count = cells.reduce((sum, cell) => sum + cell.count, 0);
    const trials = cells.reduce((sum, cell) => sum + cell.trials, 0);
    return { ...wordsOf(measure), count, trials, ...intervalOf(count, trials) };
  });
}

function wordsOf(measure: MeasureCode) {
  const { side, happened, among } = measureWords(measure);
  return { measure, side, happened, among };
}

function intervalOf(count: number, trials: number) {
  const share = trials === 0 ? undefined : shareInterval(count, trials);
  return { shareFrom: share?.low ?? null, shareTo: share?.high ?? null };
}
