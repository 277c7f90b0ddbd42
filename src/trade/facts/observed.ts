import type { Observation } from '../evidence.ts';
import type { ObservationCode } from '../words/observations.ts';
import type { Facts } from './admit-evidence.ts';
import { remembered } from './remembered-for.ts';

export type Observed = {
  answer: 'yes' | 'no';
  /** Ids of the observations that give this answer. */
  ids: readonly string[];
  hasPhoto: boolean;
  /** Whether an earlier look gave the other answer. */
  changed: boolean;
};

/** The latest answer to a question, with every observation and photo that gives the same one. */
export function observed(facts: Facts, code: ObservationCode): Observed | undefined {
  return answersOf(facts).get(code);
}

const answersOf = remembered((facts): ReadonlyMap<ObservationCode, Observed> => {
  const looks = new Map<ObservationCode, Observation[]>();
  for (const each of facts.observations) {
    const before = looks.get(each.code);
    if (before === undefined) looks.set(each.code, [each]);
    else before.push(each);
  }
  const answers = new Map<ObservationCode, Observed>();
  for (const [code, all] of looks) {
    const answer = latestAnswer(all);
    if (answer !== undefined) answers.set(code, answer);
  }
  return answers;
});

function latestAnswer(all: readonly Observation[]): Observed | undefined {
  const answer = all.at(-1)?.answer;
  if (answer === undefined || answer === 'unknown') return undefined;
  const same = all.filter((each) => each.answer === answer);
  return {
    answer,
    ids: same.map((each) => each.id),
    hasPhoto: same.some((each) => each.photoSha256 !== undefined),
    changed: same.length < all.length,
  };
}

/** Whether the latest look gave this answer; never looked is no answer. */
export function isObserved(
  facts: Facts,
  code: ObservationCode,
  answer: 'yes' | 'no' = 'yes',
): boolean {
  return observed(facts, code)?.answer === answer;
}
