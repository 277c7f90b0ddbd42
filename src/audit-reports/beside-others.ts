import type { PatternRow, ReadingPatternRow } from '../auditing/index.ts';
import type { BesideOthers } from './contract.ts';

/** A row as the owner reads it: everything that was counted first, then what could be compared. */
export function besideOthers(
  row: PatternRow | ReadingPatternRow,
  name: string,
): Omit<BesideOthers, 'standing'> {
  return {
    ...{ subject: row.subject, name, count: row.ownCount, trials: row.ownTrials },
    ...{ comparedCount: row.count, comparedTrials: row.trials, expectedCount: row.expectedCount },
    ...{ chance: row.chance, adjustedChance: row.adjustedChance, sentence: row.sentence },
  };
}
