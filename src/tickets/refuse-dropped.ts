import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ticketRequests } from './ticket-state-after.ts';
import { whyOnlyClosed } from './why-only-closed.ts';

/**
 * Refuses to end a locked ticket without closing it where that loses work or a fee.
 * @throws ProblemError 409 saying what would be lost
 */
export async function refuseDropped(
  { tx }: ActContext,
  ticket: Ticket,
  action: 'cancel' | 'resolve_by_phone',
): Promise<void> {
  const requests = ticketRequests(ticket.state);
  // What has ended, or has somebody on the way, is refused for that by its state.
  if (!requests.includes('close')) return;
  const why = await whyOnlyClosed(tx, ticket.id);
  if (why === undefined) return;
  throw new ProblemError('not-allowed-now', why, {
    currentState: ticket.state,
    action,
    allowedActions: requests.filter((each) => each !== 'cancel' && each !== 'resolve_by_phone'),
  });
}
