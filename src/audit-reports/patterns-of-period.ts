import {
  addToTally,
  amountsOf,
  type Dimension,
  dimensions,
  type MeasureCode,
  measureWords,
  patternsOf,
  shareInterval,
  startTally,
  type Tally,
} from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import type { AuditReport, ReportedPattern } from './contract.ts';
import { countJobs } from './count-jobs.ts';
import type { NameOf } from './names-of.ts';
import type { Period } from './period.ts';

/** What many jobs of a period have in common. */
export interface PeriodPatterns {
  readonly patterns: ReportedPattern[];
  readonly amounts: AuditReport['amounts'];
}

/** Counts the jobs of a period once, by everything they are counted by. */
export async function patternsOfPeriod(
  sql: Sql,
  period: Period,
  nameOf: NameOf,
): Promise<PeriodPatterns> {
  const tallies = dimensions.map((by) => startTally(by));
  for await (const job of countJobs(sql, period)) {
    for (const tally of tallies) addToTally(tally, job);
  }
  const patterns = patternsOf(tallies).map(({ measure, by, rows }): ReportedPattern => {
    const { side, happened, among } = measureWords(measure);
    const ownOf = countsOf(tallies, measure, by);
    const named = rows.map((row) => ({
      ...{ subject: row.subject, name: nameOf(by, row.subject), ...ownOf(row.subject) },
      ...{ comparedCount: row.count, comparedTrials: row.trials },
      ...{ expectedCount: row.expectedCount, chance: row.chance },
      ...{ adjustedChance: row.adjustedChance, standing: row.standing, sentence: row.sentence },
    }));
    return { measure, by, side, happened, among, rows: named };
  });
  return { patterns, amounts: namedAmounts(tallies, nameOf) };
}

/** Everything a subject was counted on, jobs that nobody else did among them. */
function countsOf(tallies: readonly Tally[], measure: MeasureCode, by: Dimension) {
  const table = tallies.find((tally) => tally.by === by)?.counts.get(measure);
  return (subject: string) => {
    const cells = [...(table?.get(subject)?.values() ?? [])];
    const count = cells.reduce((sum, cell) => sum + cell.count, 0);
    const trials = cells.reduce((sum, cell) => sum + cell.trials, 0);
    const share = trials === 0 ? undefined : shareInterval(count, trials);
    return { count, trials, shareFrom: share?.low ?? null, shareTo: share?.high ?? null };
  };
}

function namedAmounts(tallies: readonly Tally[], nameOf: NameOf): AuditReport['amounts'] {
  const own = tallies.find(({ by }) => by === 'technician');
  if (own === undefined) return [];
  return amountsOf(own).map((row) => ({ ...row, name: nameOf('technician', row.subject) }));
}
