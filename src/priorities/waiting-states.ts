import type { TicketState } from '../lifecycles/index.ts';

/** In one of these a ticket waits, and nobody is booked to come. */
export const unbookedStates = [
  'new',
  'waiting_for_part',
  'waiting_for_answer',
] as const satisfies readonly TicketState[];

/** Somebody waits for us, whether or not a visit is booked. */
export function isWaiting(state: TicketState): boolean {
  return state === 'scheduled' || unbookedStates.some((each) => each === state);
}
