import { z } from 'zod';
import type { Evidence } from '../evidence.ts';
import type { Facts } from '../facts/admit-evidence.ts';
import { type FaultCode, faultCodeSchema, faults } from '../faults/catalog.ts';
import { distinct } from './distinct.ts';
import { type Criterion, criterionSchema, standingSchema, type Weighed } from './verdict.ts';
import { type Strength, verdictTable } from './verdict-table.ts';

/** How the evidence stands to one fault, and everything that says so. */
export const verdictSchema = z.strictObject({
  faultCode: faultCodeSchema,
  standing: standingSchema,
  reason: z.string(),
  doubts: z.array(z.string()),
  criteria: z.array(criterionSchema),
});
export type Verdict = z.infer<typeof verdictSchema>;

/** Weighs one fault by its criteria for and against, and the table of the nine cells. */
export function weigh(faultCode: FaultCode, facts: Facts): Verdict {
  const unfit = whyNotApplicable(faultCode, facts.equipment);
  if (unfit !== undefined) {
    return { faultCode, standing: 'not_applicable', reason: unfit, doubts: [], criteria: [] };
  }
  const weighed = faults[faultCode].rules.criteria(facts);
  const criteria = weighed.map((each) => each.criterion);
  const cell = verdictTable[strongest(criteria, 'for')][strongest(criteria, 'against')];
  return {
    faultCode,
    standing: cell.standing,
    reason: cell.reason === 'nothing recorded' ? whyNothingSpeaks(weighed) : cell.reason,
    doubts: doubtsOf(weighed, cell.standing),
    criteria,
  };
}

/** Why a fault cannot be on this equipment, in words; undefined when it can. */
function whyNotApplicable(
  faultCode: FaultCode,
  { kind, nameplate }: Evidence['equipment'],
): string | undefined {
  const { kinds, rules } = faults[faultCode];
  if (!kinds.includes(kind)) return `this fault is not found on ${oneOf(kind)}`;
  return rules.unfit?.(nameplate);
}

/** A kind of equipment with its article: an air handler, a furnace. */
function oneOf(kind: Evidence['equipment']['kind']): string {
  return `${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind.replaceAll('_', ' ')}`;
}

function strongest(criteria: readonly Criterion[], direction: Criterion['direction']): Strength {
  const met = criteria.filter((each) => each.outcome === 'met' && each.direction === direction);
  if (met.length === 0) return 'none';
  return met.some((each) => each.weight === 'decisive') ? 'decisive' : 'indicative';
}

/** Where no sign speaks either way, whether that is for want of looking or for want of deciding. */
function whyNothingSpeaks(weighed: readonly Weighed[]): string {
  if (weighed.some((each) => each.readingsDisagree)) return 'readings disagree, measure again';
  const outcomes = new Set(weighed.map((each) => each.criterion.outcome));
  if (outcomes.has('undecided')) return 'undecided by this method';
  if (outcomes.has('not_met')) return 'looked for, no sign found';
  return 'nothing recorded';
}

/** Undecided signs, contradicted earlier looks, and whatever speaks against a proven fault. */
function doubtsOf(weighed: readonly Weighed[], standing: Verdict['standing']): string[] {
  const doubts = weighed.flatMap(({ criterion, doubts: own }) => {
    const against =
      standing === 'proven' && criterion.direction === 'against' && criterion.outcome === 'met'
        ? [criterion.statement]
        : [];
    const undecided = criterion.outcome === 'undecided' ? [criterion.detail] : [];
    return [...against, ...undecided, ...own];
  });
  return distinct(doubts);
}
