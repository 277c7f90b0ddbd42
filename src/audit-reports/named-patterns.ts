import {
  amountsOf,
  measureWords,
  type PatternRow,
  patternsInSteps,
  type Tally,
} from '../auditing/index.ts';
import { besideOthers } from './beside-others.ts';
import type { AuditReport, ReportedPattern } from './contract.ts';
import type { NameOf } from './names-of.ts';
import { stepByStep } from './step-by-step.ts';

/** What many jobs have in common, each subject by its name. */
export async function namedPatterns(
  tallies: readonly Tally[],
  nameOf: NameOf,
): Promise<ReportedPattern[]> {
  const patterns = await stepByStep(patternsInSteps(tallies));
  return patterns.map(({ measure, by, rows }) => {
    const { side, happened, among } = measureWords(measure);
    const named = rows.map((row) => ({
      ...besideOthers(row, nameOf(by, row.subject)),
      ...shareOf(row),
      ...fewerOf(row, side),
    }));
    return { measure, by, side, happened, among, rows: named };
  });
}

/** What was billed, by technician. */
export function namedAmounts(tallies: readonly Tally[], nameOf: NameOf): AuditReport['amounts'] {
  const own = tallies.find(({ by }) => by === 'technician');
  if (own === undefined) return [];
  return amountsOf(own).map((row) => ({ ...row, name: nameOf('technician', row.subject) }));
}

/** Of what asks for a look, fewer is no matter. */
function fewerOf(
  { standing, chanceOfFewer, adjustedChanceOfFewer }: PatternRow,
  side: ReportedPattern['side'],
) {
  return {
    standing,
    chanceOfFewer: side === 'praise' ? chanceOfFewer : null,
    adjustedChanceOfFewer,
  };
}

function shareOf({ share }: PatternRow) {
  return { shareFrom: share?.low ?? null, shareTo: share?.high ?? null };
}
