import { z } from 'zod';
import type { Evidence } from './evidence.ts';
import type { Facts } from './facts/admit-evidence.ts';
import { type FaultCode, faultCodeSchema, faults } from './faults/catalog.ts';
import { distinct } from './verdicts/distinct.ts';
import {
  type Criterion,
  criterionSchema,
  type Outcome,
  standingSchema,
  type Weighed,
} from './verdicts/verdict.ts';
import { type Strength, verdictTable } from './verdicts/verdict-table.ts';
import { equipmentKindSchema } from './words/equipment-kinds.ts';

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
  const cell = verdictTable[strongest(weighed, 'for')][strongest(weighed, 'against')];
  return {
    faultCode,
    standing: cell.standing,
    reason: cell.reason === 'nothing recorded' ? whyNothingSpeaks(weighed) : cell.reason,
    doubts: doubtsOf(weighed, cell.standing),
    criteria: weighed.map((each) => each.criterion),
  };
}

/** Why a fault cannot be on this equipment, in words; undefined when it can. */
function whyNotApplicable(
  faultCode: FaultCode,
  { kind, nameplate }: Evidence['equipment'],
): string | undefined {
  const { kinds, rules } = faults[faultCode];
  if (!kinds.includes(kind)) return `this fault is not found on ${oneOf.get(kind)}`;
  return rules.unfit?.(nameplate);
}

/** Each kind of equipment with its article: an air handler, a furnace. */
const oneOf = new Map(
  equipmentKindSchema.options.map((kind) => [
    kind,
    `${/^[aeiou]/.test(kind) ? 'an' : 'a'} ${kind.replaceAll('_', ' ')}`,
  ]),
);

function strongest(weighed: readonly Weighed[], direction: Criterion['direction']): Strength {
  let strength: Strength = 'none';
  for (const { criterion } of weighed) {
    if (criterion.outcome !== 'met' || criterion.direction !== direction) continue;
    if (criterion.weight === 'decisive') return 'decisive';
    strength = 'indicative';
  }
  return strength;
}

/** Where no sign speaks either way, whether that is for want of looking or for want of deciding. */
function whyNothingSpeaks(weighed: readonly Weighed[]): string {
  if (weighed.some((each) => each.readingsDisagree)) return 'readings disagree, measure again';
  const hasOutcome = (outcome: Outcome) =>
    weighed.some(({ criterion }) => criterion.outcome === outcome);
  if (hasOutcome('undecided')) return 'undecided by this method';
  return hasOutcome('not_met') ? 'looked for, no sign found' : 'nothing recorded';
}

/** Undecided signs, contradicted earlier looks, and whatever speaks against a proven fault. */
function doubtsOf(weighed: readonly Weighed[], standing: Verdict['standing']): string[] {
  const doubts: string[] = [];
  for (const { criterion, doubts: own } of weighed) {
    const { outcome, direction } = criterion;
    const isAgainst = direction === 'against' && outcome === 'met';
    if (standing === 'proven' && isAgainst) doubts.push(criterion.statement);
    if (outcome === 'undecided') doubts.push(criterion.detail);
    doubts.push(...own);
  }
  return distinct(doubts);
}
