import { randomFor } from './random.ts';

/** What becomes of a call. */
export type TicketFate =
  | 'solved_by_phone'
  | 'called_off'
  | 'visit_cancelled'
  | 'no_access'
  | 'visited';

/** The fate of a ticket by its number alone, so that the windows it takes can be counted first. */
export function ticketFate(seed: number, index: number): TicketFate {
  const draw = randomFor(seed, 'fate', index).between(0, 100);
  if (draw < 9) return 'solved_by_phone';
  if (draw < 11) return 'called_off';
  if (draw < 12.5) return 'visit_cancelled';
  if (draw < 14) return 'no_access';
  return 'visited';
}

export function takesWindow(fate: TicketFate): boolean {
  return TAKES_WINDOW[fate];
}

const TAKES_WINDOW: Record<TicketFate, boolean> = {
  solved_by_phone: false,
  called_off: false,
  visit_cancelled: true,
  no_access: true,
  visited: true,
};
