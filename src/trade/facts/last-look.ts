import type { ObservationCode } from '../words/observations.ts';
import type { Facts } from './admit-evidence.ts';

/** When a question was last answered so, in milliseconds; minus infinity when it never was. */
export function lastLook(facts: Facts, code: ObservationCode, answer?: 'yes' | 'no'): number {
  const last = facts.observations.findLast(
    (each) => each.code === code && (answer === undefined || each.answer === answer),
  );
  return last === undefined ? Number.NEGATIVE_INFINITY : Date.parse(last.at);
}
