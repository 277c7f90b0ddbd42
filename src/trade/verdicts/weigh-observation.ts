import type { Facts } from '../facts/admit-evidence.ts';
import { type Observed, observed } from '../facts/observed.ts';
import { type ObservationCode, observationWords } from '../words/observations.ts';
import type { Criterion, Weighed } from './verdict.ts';

export type CriterionHead = Pick<Criterion, 'id' | 'statement' | 'direction' | 'weight'>;

/**
 * A criterion met by one answer to one question. With `photoDecides` its weight is decisive when a
 * photo shows it and indicative when only the technician's word does.
 */
export function weighObservation(
  facts: Facts,
  sign: Pick<Criterion, 'id' | 'direction'> & {
    statement?: string;
    code: ObservationCode;
    answer?: 'yes' | 'no';
    weight: Criterion['weight'] | 'photoDecides';
  },
): Weighed {
  const { id, direction, code, answer = 'yes' } = sign;
  const seen = observed(facts, code);
  const met = seen?.answer === answer;
  const weight =
    sign.weight === 'photoDecides'
      ? met && seen.hasPhoto
        ? 'decisive'
        : 'indicative'
      : sign.weight;
  return {
    criterion: {
      id,
      direction,
      weight,
      statement: sign.statement ?? `${observationWords[code].statement}.`,
      outcome: seen === undefined ? 'not_recorded' : met ? 'met' : 'not_met',
      detail: detailOf(code, seen),
      readingIds: [],
      observationIds: [...(seen?.ids ?? [])],
    },
    doubts: seen?.changed
      ? [`An earlier look disagrees: ${observationWords[code].statement}.`]
      : [],
    readingsDisagree: false,
  };
}

function detailOf(code: ObservationCode, seen: Observed | undefined): string {
  if (seen === undefined) return 'Not recorded.';
  const photo = seen.hasPhoto ? ', with a photo' : '';
  return `${observationWords[code].statement}: ${seen.answer}${photo}.`;
}
