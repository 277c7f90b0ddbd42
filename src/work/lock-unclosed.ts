import type { Ticket } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lastClosing, lockTicket } from '../tickets/index.ts';
import { visitOf } from '../visits/index.ts';
import { isSince } from './lock-work.ts';

/**
 * Locks the ticket and the visit whose records are being corrected, as long as no closing has
 * looked at them: who closes the ticket at the same moment waits, or has come first.
 * @throws ProblemError 404 for a visit that is not theirs, 409 when the ticket was closed since or
 *   cancelled
 */
export async function lockUnclosed(act: ActContext, visitId: string): Promise<Ticket> {
  const { ticketId } = await visitOf(act.tx, act, visitId);
  const ticket = await lockTicket(act, ticketId);
  await lockRow(act.tx, 'visit', visitId);
  const closing = await lastClosing(act.tx, ticketId);
  if (isSince({ id: visitId }, closing) && ticket.state !== 'cancelled') return ticket;
  throw new ProblemError(
    'not-allowed-now',
    ticket.state === 'cancelled'
      ? 'The ticket is cancelled. Nothing of it is billed.'
      : 'The ticket was closed on this record, so it stands. If the bill is wrong, the owner corrects it with a credit memo.',
    { currentState: ticket.state, action: 'strike', allowedActions: [] },
  );
}
