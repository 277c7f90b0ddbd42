import type { Facts } from '../facts/admit-evidence.ts';
import { observed } from '../facts/observed.ts';
import { type ObservationCode, observationWords } from '../words/observations.ts';
import type { Condition } from './weigh-together.ts';

/** That a question was answered so; any other answer fails it, none leaves it unknown. */
export function whenObserved(
  facts: Facts,
  code: ObservationCode,
  answer: 'yes' | 'no' = 'yes',
): Condition {
  const seen = observed(facts, code);
  const { statement } = observationWords[code];
  return {
    state: seen === undefined ? 'unknown' : seen.answer === answer ? 'holds' : 'fails',
    says: seen === undefined ? `Record: ${statement}?` : `${statement}: ${seen.answer}.`,
    readingIds: [],
    observationIds: seen?.ids ?? [],
    readingsDisagree: false,
  };
}
