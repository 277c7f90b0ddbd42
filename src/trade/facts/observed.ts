import type { ObservationCode } from '../words/observations.ts';
import type { Facts } from './admit-evidence.ts';
import { rememberedFor } from './remembered-for.ts';

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
  return answersOf(facts)(code, () => ({ seen: latestAnswer(facts, code) })).seen;
}

const answersOf = rememberedFor<Facts, { seen: Observed | undefined }>();

function latestAnswer(facts: Facts, code: ObservationCode): Observed | undefined {
  const all = facts.observations.filter((each) => each.code === code);
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
