import type { z } from 'zod';
import type { TicketAction, TicketState } from '../lifecycles/index.ts';
import type { Sql } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { Reply } from '../platform/http/route.ts';
import { ticketKindSchema, type ticketSchema } from './contract.ts';
import { type Standing, standingOf } from './standing-of.ts';
import { ticketRequests } from './ticket-state-after.ts';

type TicketBody = z.input<typeof ticketSchema>;

/** A ticket as an answer, with its tag. */
export async function answerTicket(sql: Sql, ticket: Ticket): Promise<Reply<TicketBody>> {
  const [body] = await ticketBodies(sql, [ticket]);
  if (body === undefined) throw new Error('one ticket has one answer');
  return { body, etag: versionTag(ticket.version) };
}

/** Tickets as the API shows them. */
export async function ticketBodies(sql: Sql, tickets: readonly Ticket[]): Promise<TicketBody[]> {
  const standing = await standingOf(
    sql,
    tickets.map(({ id }) => id),
  );
  return tickets.map((ticket) => {
    const known = standing.get(ticket.id);
    if (known === undefined) throw new Error(`how ticket ${ticket.number} stands was not told`);
    return ticketBody(ticket, known);
  });
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
