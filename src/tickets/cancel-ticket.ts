import { allowedActions, ticketLifecycle } from '../lifecycles/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket, moveTicket } from './move-ticket.ts';

/**
 * Cancels a ticket that nobody is working on.
 * @throws ProblemError 409 while a visit is live: cancel the visit first, so that the technician
 *   is told
 */
export async function cancelTicket(
  act: ActContext,
  ticketId: string,
  reason: string,
): Promise<Ticket> {
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  const live = await act.tx.visit.findFirst({
    where: { ticketId, state: { in: ['booked', 'on_the_way', 'on_site'] } },
  });
  if (live !== null) {
    throw new ProblemError('not-allowed-now', 'Cancel its visit first.', {
      currentState: ticket.state,
      action: 'cancel',
      liveVisitId: live.id,
      allowedActions: allowedActions(ticketLifecycle, ticket.state),
    });
  }
  return moveTicket(act, ticket, 'cancel', reason);
}
