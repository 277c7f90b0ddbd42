import type { Facts } from '../../facts/admit-evidence.ts';
import { rememberedFor } from '../../facts/remembered-for.ts';
import type { Criterion } from '../../verdicts/verdict.ts';
import type { Condition } from '../../verdicts/weigh-together.ts';
import { type Section, weighSection } from './weigh-section.ts';

/**
 * That the run capacitor of a motor is measured within its label and looks sound, so that it is not
 * to blame for the motor. Any sign for its fault fails it.
 */
export const whenSectionSound = rememberedFor((facts: Facts, section: Section): Condition => {
  const weighed = weighSection(facts, section);
  const criteria = weighed.map((each) => each.criterion);
  const atFault = criteria.filter((each) => each.direction === 'for' && each.outcome === 'met');
  const within = criteria.filter((each) => each.id === 'within_tolerance');
  const isSound = within.some((each) => each.outcome === 'met');
  const readingsDisagree = weighed.some((each) => each.readingsDisagree);
  if (atFault.length > 0) return conditionOf('fails', section, atFault, readingsDisagree);
  return conditionOf(isSound ? 'holds' : 'unknown', section, within, readingsDisagree);
});

function conditionOf(
  state: Condition['state'],
  { label }: Section,
  criteria: readonly Criterion[],
  readingsDisagree: boolean,
): Condition {
  const recorded = criteria.filter((each) => each.outcome !== 'not_recorded');
  const details = recorded.map((each) => each.detail).join(' ');
  return {
    state,
    says: recorded.length > 0 ? `${label}: ${details}` : `${label}: measure it.`,
    readingIds: recorded.flatMap((each) => each.readingIds),
    observationIds: recorded.flatMap((each) => each.observationIds),
    readingsDisagree,
  };
}
