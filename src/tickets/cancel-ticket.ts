import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket, moveTicket } from './move-ticket.ts';
import { refuseDropped } from './refuse-dropped.ts';
import { ticketRequests } from './ticket-state-after.ts';

/**
 * Cancels a ticket that nobody was sent to, or where nobody was let in.
 * @throws ProblemError 409 while a visit is live: cancel the visit first, so that the technician
 *   is told; and once work was agreed to or somebody was there: that is closed, and billed
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
      allowedActions: ticketRequests(ticket.state),
    });
  }
  await refuseDropped(act, ticket, 'cancel');
  return moveTicket(act, ticket, 'cancel', reason);
}
