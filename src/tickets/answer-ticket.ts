import type { z } from 'zod';
import type { TicketAction, TicketState } from '../lifecycles/index.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import { ticketKindSchema, type ticketSchema } from './contract.ts';
import { callbacksAmong } from './last-closing.ts';
import { onlyClosedAmong } from './only-closed-among.ts';
import { ticketRequests } from './ticket-state-after.ts';

type TicketBody = z.input<typeof ticketSchema>;

/** A ticket as an answer, with its tag. */
export async function answerTicket(
  prisma: Pick<Tx, 'ticket' | 'ticketClosing' | 'visit'>,
  ticket: Ticket,
): Promise<Reply<TicketBody>> {
  const [body] = await ticketBodies(prisma, [ticket]);
  if (body === undefined) throw new Error('one ticket has one answer');
  return { body, etag: versionTag(ticket.version) };
}

/** Tickets as the API shows them. */
export async function ticketBodies(
  prisma: Pick<Tx, 'ticket' | 'ticketClosing' | 'visit'>,
  tickets: readonly Ticket[],
): Promise<TicketBody[]> {
  const ids = tickets.map(({ id }) => id);
  const callbacks = await callbacksAmong(prisma, ids);
  const onlyClosed = await onlyClosedAmong(prisma, ids);
  return tickets.map((ticket) =>
    ticketBody(ticket, {
      isCallback: callbacks.has(ticket.id),
      canOnlyBeClosed: onlyClosed.has(ticket.id),
    }),
  );
}

interface Standing {
  isCallback: boolean;
  canOnlyBeClosed: boolean;
}

function ticketBody(ticket: Ticket, { isCallback, canOnlyBeClosed }: Standing): TicketBody {
  const { createdById: _, createdAt, firstClosedAt, ...rest } = ticket;
  return {
    ...rest,
    kind: ticketKindSchema.parse(ticket.kind),
    callback: isCallback,
    firstClosedAt: firstClosedAt?.toISOString() ?? null,
    createdAt: createdAt.toISOString(),
    allowedActions: requestsFor(ticket.state, canOnlyBeClosed),
  };
}

/** What is not lost by dropping it is not closed, and the other way round. */
function requestsFor(state: TicketState, canOnlyBeClosed: boolean): TicketAction[] {
  const requests = ticketRequests(state);
  if (!requests.includes('close')) return requests;
  if (canOnlyBeClosed) return requests.filter((each) => !DROPS.includes(each));
  return state === 'new' ? requests.filter((each) => each !== 'close') : requests;
}

const DROPS: readonly TicketAction[] = ['cancel', 'resolve_by_phone'];
