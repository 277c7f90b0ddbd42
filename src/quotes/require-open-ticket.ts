import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { endedStates, ticketRequests } from '../tickets/index.ts';

/**
 * Nothing more is sold on a ticket that has ended: its invoice is made, or there is nothing to
 * bill. Whoever calls holds the ticket, so that it does not end meanwhile.
 * @throws ProblemError 409
 */
export function requireOpenTicket({ state }: Pick<Ticket, 'state'>): void {
  if (!endedStates.includes(state)) return;
  const words = state.replaceAll('_', ' ');
  throw new ProblemError('not-allowed-now', `The ticket is ${words}; nothing is sold on it.`, {
    currentState: state,
    allowedActions: ticketRequests(state),
  });
}

/**
 * No new offer goes out on a ticket whose work is called complete: nobody would come for its yes.
 * @throws ProblemError 409
 */
export function refuseWhenComplete({ state }: Pick<Ticket, 'state'>): void {
  if (state !== 'work_complete') return;
  throw new ProblemError(
    'not-allowed-now',
    'The work of this ticket is complete. Close it, and reopen it for what is still to be done.',
    { currentState: state, allowedActions: ticketRequests(state) },
  );
}
