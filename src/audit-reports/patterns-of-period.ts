import {
  addToTally,
  amountsOf,
  dimensions,
  measureWords,
  type PatternRow,
  patternsOf,
  shareInterval,
  startTally,
  type Tally,
} from '../auditing/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { besideOthers } from './beside-others.ts';
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
    const named = rows.map((row) => ({
      ...besideOthers(row, nameOf(by, row.subject)),
      ...shareOf(row),
    }));
    return { measure, by, side, happened, among, rows: named };
  });
  return { patterns, amounts: namedAmounts(tallies, nameOf) };
}

function shareOf({ ownCount, ownTrials }: PatternRow) {
  const share = ownTrials === 0 ? undefined : shareInterval(ownCount, ownTrials);
  return { shareFrom: share?.low ?? null, shareTo: share?.high ?? null };
}

function namedAmounts(tallies: readonly Tally[], nameOf: NameOf): AuditReport['amounts'] {
  const own = tallies.find(({ by }) => by === 'technician');
  if (own === undefined) return [];
  return amountsOf(own).map((row) => ({ ...row, name: nameOf('technician', row.subject) }));
}
