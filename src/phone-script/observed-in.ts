import type { ObservationCode } from '../trade/index.ts';
import { isOneOf } from './holds.ts';
import type { Dialogue } from './next-step.ts';

/** What the answers that count tell of the equipment. Of two of one code the later counts. */
export function observedIn({
  path,
}: Pick<Dialogue, 'path'>): { code: ObservationCode; answer: 'yes' | 'no' }[] {
  const observed = new Map<ObservationCode, 'yes' | 'no'>();
  for (const { question, given } of path) {
    for (const { is, code, answer } of question.observes ?? []) {
      if (isOneOf(given, is)) observed.set(code, answer);
    }
  }
  return [...observed].map(([code, answer]) => ({ code, answer }));
}
