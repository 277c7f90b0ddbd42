import type { DrawnMeasurement, Weighed } from './verdict.ts';
import type { CriterionHead } from './weigh-observation.ts';
import { sentencesOf, weighedOn } from './weighed-on.ts';

/** One thing that must be so, whether it is on record, and what the record says of it. */
export type Condition = {
  state: 'holds' | 'fails' | 'unknown';
  /** What is on record where anything is; else what to record. A sentence. */
  says: string;
  readingIds: readonly string[];
  observationIds: readonly string[];
  readingsDisagree: boolean;
  /** The figure it rests on beside what is usual, where there is one to draw. */
  measurement?: DrawnMeasurement;
};

/**
 * A criterion that is met when its sign holds and everything it rests on holds with it. It is not
 * recorded while nobody looked for the sign, not met once anything fails, and undecided while
 * anything it rests on is unknown.
 */
export function weighTogether(
  head: CriterionHead,
  sign: Condition,
  provided: readonly Condition[],
): Weighed {
  if (isUnrecorded(sign)) return weighedOn(head, 'not_recorded', [], 'Not recorded.');
  const all = [sign, ...provided];
  const failing = all.filter(({ state }) => state === 'fails');
  if (failing.length > 0) return weighedOn(head, 'not_met', failing, sentencesOf(failing), failing);
  const unknown = all.filter(({ state }) => state === 'unknown');
  return unknown.length > 0
    ? weighedOn(head, 'undecided', all, sentencesOf(unknown), unknown)
    : weighedOn(head, 'met', all, sentencesOf(all), all);
}

function isUnrecorded({ state, readingIds, observationIds }: Condition): boolean {
  return state === 'unknown' && readingIds.length + observationIds.length === 0;
}
