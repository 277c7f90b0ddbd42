import { appendJournal } from '../journal/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { TicketKind } from './contract.ts';

/** What a ticket begins with. */
export interface NewTicket {
  siteId: string;
  callerId: string;
  complaint: string;
  symptoms: readonly string[];
}

/** Writes a new ticket of a site and a caller that are known to exist. */
export async function writeTicket(
  act: ActContext,
  { siteId, callerId, complaint, symptoms }: NewTicket,
  kind: TicketKind = 'repair',
): Promise<Ticket> {
  const ticket = await act.tx.ticket.create({
    data: {
      id: act.newId(),
      siteId,
      callerId,
      complaint,
      kind,
      symptoms: [...symptoms],
      createdAt: act.now,
      createdById: act.actor.id,
    },
  });
  const { number, state } = ticket;
  await appendJournal(act, {
    event: 'ticket.opened',
    subject: { kind: 'ticket', id: ticket.id },
    after: { number, siteId, callerId, symptoms, kind, state },
  });
  return ticket;
}
