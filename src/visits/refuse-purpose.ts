import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lastClosing, ticketRequests } from '../tickets/index.ts';
import type { VisitPurpose } from './contract.ts';

/**
 * Refuses a trip for a purpose that its locked ticket does not have: a reopened ticket is a
 * callback until it is closed again, whatever it waits for; a ticket that waits for a part, or has a
 * yes that stands, is come back to without a fee; maintenance is due; any other is called for.
 * @throws ProblemError 409 naming the purposes the ticket has now
 */
export async function refusePurpose(
  act: ActContext,
  ticket: Ticket,
  purpose: VisitPurpose,
): Promise<void> {
  const fitting = await purposesOf(act.tx, ticket);
  if (fitting.includes(purpose)) return;
  throw new ProblemError('not-allowed-now', WHY_NOT[purpose], {
    currentState: ticket.state,
    action: 'book',
    allowedActions: ticketRequests(ticket.state),
    allowedPurposes: fitting,
  });
}

const WHY_NOT: Record<VisitPurpose, string> = {
  call: 'This trip has no fee: book it as what `allowedPurposes` says.',
  return: 'Nobody comes back for work that was not accepted, unless a part is waited for.',
  callback: 'Only a reopened ticket has callbacks.',
  maintenance: 'Only a ticket for maintenance that is due is booked so.',
};

/** What a ticket may be booked for now. */
export async function purposesOf(
  tx: Pick<Tx, 'ticketClosing' | 'quoteAcceptance' | 'partWait'>,
  ticket: Pick<Ticket, 'id' | 'kind'>,
): Promise<VisitPurpose[]> {
  if ((await lastClosing(tx, ticket.id))?.isReopened) return ['callback'];
  const accepted = await tx.quoteAcceptance.findFirst({
    where: { quote: { ticketId: ticket.id }, cancellation: null },
    select: { quoteId: true },
  });
  // Whoever comes back with a part, or for work that was agreed to, charges no second fee; also when
  // a first booking for it was cancelled.
  const part = await tx.partWait.findFirst({
    where: { ticketId: ticket.id },
    select: { id: true },
  });
  if (accepted !== null || part !== null) return ['return'];
  return ticket.kind === 'maintenance' ? ['maintenance'] : ['call'];
}
