import type { Weighed } from './verdict.ts';
import type { CriterionHead } from './weigh-observation.ts';
import type { Condition } from './weigh-together.ts';
import { sentencesOf, weighedOn } from './weighed-on.ts';

/** Signs that only together tell of a fault. */
export type Pattern = {
  /** Must all surely show: what keeps this pattern apart from its neighbors. */
  keys: readonly Condition[];
  /** What else the fault does, of which not every sign need show. */
  others: readonly Condition[];
  /** How many of keys and others must surely show. */
  agreeingMin: number;
  /** What must be so before the signs say anything. */
  provided: readonly Condition[];
};

/**
 * A criterion met when at least so many of the named signs surely show, all keys among them, and
 * none surely contradicts. It is not recorded while no sign was read, not met once one contradicts,
 * and undecided while too few can be told or what it rests on does not hold.
 */
export function weighPattern(head: CriterionHead, pattern: Pattern): Weighed {
  const { keys, others, agreeingMin, provided } = pattern;
  const signs = [...keys, ...others];
  const read = signs.filter(isRead);
  if (read.length === 0) return weighedOn(head, 'not_recorded', [], 'Not recorded.');
  const failing = provided.filter(({ state }) => state === 'fails');
  if (failing.length > 0) {
    return weighedOn(head, 'undecided', [...read, ...failing], sentencesOf(failing));
  }
  const against = signs.filter(({ state }) => state === 'fails');
  if (against.length > 0) return weighedOn(head, 'not_met', against, sentencesOf(against), against);
  const due = provided.filter(({ state }) => state === 'unknown');
  if (due.length > 0) return weighedOn(head, 'undecided', [...read, ...due], sentencesOf(due));
  const shown = signs.filter(({ state }) => state === 'holds');
  const openKeys = keys.filter(({ state }) => state !== 'holds');
  if (openKeys.length > 0)
    return weighedOn(head, 'undecided', read, sentencesOf(openKeys), openKeys);
  if (shown.length < agreeingMin) {
    const open = signs.filter(({ state }) => state === 'unknown');
    const why = `Only ${shown.length} of the ${agreeingMin} signs it takes show. ${sentencesOf(open)}`;
    return weighedOn(head, 'undecided', read, why);
  }
  return weighedOn(head, 'met', [...shown, ...provided], sentencesOf(shown), shown);
}

function isRead({ readingIds, observationIds }: Condition): boolean {
  return readingIds.length + observationIds.length > 0;
}
