import type { Dialogue } from './next-step.ts';
import { observedIn } from './observed-in.ts';

/** Whether the answers that count tell of a breaker that tripped again, whoever had reset it. */
export function tripsAgain(dialogue: Pick<Dialogue, 'path'>): boolean {
  return observedIn(dialogue).some(
    ({ code, answer }) => code === 'breaker_trips_again' && answer === 'yes',
  );
}
