import { distinct } from './distinct.ts';
import type { Weighed } from './verdict.ts';
import type { CriterionHead } from './weigh-observation.ts';

/** One thing that must be so, whether it is on record, and what the record says of it. */
export type Condition = {
  state: 'holds' | 'fails' | 'unknown';
  /** What is on record where anything is; else what to record. A sentence. */
  says: string;
  readingIds: readonly string[];
  observationIds: readonly string[];
  readingsDisagree: boolean;
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
  if (isUnrecorded(sign)) {
    return weighed(head, 'not_recorded', [], 'Not recorded.');
  }
  const all = [sign, ...provided];
  const failing = all.filter(({ state }) => state === 'fails');
  if (failing.length > 0) return weighed(head, 'not_met', failing, sentences(failing));
  const unknown = all.filter(({ state }) => state === 'unknown');
  const detail = sentences(unknown.length > 0 ? unknown : all);
  return weighed(head, unknown.length > 0 ? 'undecided' : 'met', all, detail);
}

function isUnrecorded({ state, readingIds, observationIds }: Condition): boolean {
  return state === 'unknown' && readingIds.length + observationIds.length === 0;
}

function weighed(
  head: CriterionHead,
  outcome: Weighed['criterion']['outcome'],
  restsOn: readonly Condition[],
  detail: string,
): Weighed {
  return {
    criterion: {
      ...head,
      outcome,
      detail,
      readingIds: distinct(restsOn.flatMap((each) => each.readingIds)),
      observationIds: distinct(restsOn.flatMap((each) => each.observationIds)),
    },
    doubts: [],
    readingsDisagree: restsOn.some((each) => each.readingsDisagree),
  };
}

function sentences(conditions: readonly Condition[]): string {
  return distinct(conditions.map(({ says }) => says)).join(' ');
}
