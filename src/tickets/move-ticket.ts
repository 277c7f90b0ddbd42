import { appendJournal } from '../journal/index.ts';
import type { TicketAction } from '../lifecycles/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ticketStateAfter } from './ticket-state-after.ts';

/**
 * Locks a ticket until the transaction ends and reads it.
 * @throws ProblemError 404 when there is none
 */
export async function lockTicket(act: ActContext, id: string): Promise<Ticket> {
  await lockRow(act.tx, 'ticket', id);
  const ticket = await act.tx.ticket.findUnique({ where: { id } });
  if (ticket === null) throw notFound('ticket');
  return ticket;
}

/**
 * Takes a locked ticket one step along its life.
 * @throws ProblemError 409 when the step is not allowed from its state
 */
export async function moveTicket(
  act: ActContext,
  ticket: Ticket,
  action: TicketAction,
  closingNote?: string,
): Promise<Ticket> {
  const state = ticketStateAfter(ticket.state, action);
  const moved = await act.tx.ticket.update({
    where: { id: ticket.id },
    data: {
      state,
      version: ticket.version + 1,
      ...(closingNote !== undefined && { closingNote }),
      ...(state === 'closed' && { firstClosedAt: ticket.firstClosedAt ?? act.now }),
    },
  });
  await appendJournal(act, {
    event: 'ticket.moved',
    subject: { kind: 'ticket', id: ticket.id },
    before: { state: ticket.state },
    after: { state },
  });
  return moved;
}
