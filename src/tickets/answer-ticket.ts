import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import { ticketKindSchema, type ticketSchema } from './contract.ts';
import { callbacksAmong } from './last-closing.ts';
import { ticketRequests } from './ticket-state-after.ts';

type TicketBody = z.input<typeof ticketSchema>;

/** A ticket as an answer, with its tag. */
export async function answerTicket(
  prisma: Pick<Tx, 'ticketClosing'>,
  ticket: Ticket,
): Promise<Reply<TicketBody>> {
  const callbacks = await callbacksAmong(prisma, [ticket.id]);
  return { body: ticketBody(ticket, callbacks), etag: versionTag(ticket.version) };
}

/** @param callbacks the tickets that are callbacks now, this one perhaps among them */
export function ticketBody(ticket: Ticket, callbacks: ReadonlySet<string>): TicketBody {
  const { createdById: _, createdAt, firstClosedAt, ...rest } = ticket;
  return {
    ...rest,
    kind: ticketKindSchema.parse(ticket.kind),
    callback: callbacks.has(ticket.id),
    firstClosedAt: firstClosedAt?.toISOString() ?? null,
    createdAt: createdAt.toISOString(),
    allowedActions: ticketRequests(ticket.state),
  };
}
