import type { z } from 'zod';
import type { ReadContext } from '../platform/http/route.ts';
import { byPriority } from '../priority/index.ts';
import type { waitingTicketSchema } from './contract.ts';
import { priorityBody } from './priority-body.ts';
import { priorityOf } from './priority-of.ts';
import { unbookedStates } from './waiting-states.ts';

type WaitingBody = z.input<typeof waitingTicketSchema>;

/** More than a hundred technicians can be sent to; the rest is counted. */
const WEIGHED_MAX = 1_000;

/**
 * Tickets that nobody is booked for, most urgent first: by rank, then by score, then the older call.
 * Of more than a thousand the oldest are weighed; `weighed` says so.
 */
export async function listWaiting(
  { prisma, now }: Pick<ReadContext, 'prisma' | 'now'>,
  limit: number,
): Promise<{ items: WaitingBody[]; waiting: number; weighed: number }> {
  const where = { state: { in: [...unbookedStates] } };
  const [waiting, tickets] = await Promise.all([
    prisma.ticket.count({ where }),
    prisma.ticket.findMany({
      where,
      orderBy: [{ createdAt: 'asc' }, { id: 'asc' }],
      take: WEIGHED_MAX,
    }),
  ]);
  const priorities = await priorityOf(
    prisma,
    tickets.map(({ id }) => id),
    now,
  );
  const ranked = tickets.flatMap((ticket) => {
    const priority = priorities.get(ticket.id);
    return priority === undefined ? [] : [{ ticket, priority }];
  });
  // Sorting keeps the older call before the later one where nothing else does.
  ranked.sort((a, b) => byPriority(a.priority, b.priority));
  const items = ranked.slice(0, limit).map(({ ticket, priority }) => ({
    ...priorityBody(priority),
    ticketNumber: ticket.number,
    state: ticket.state,
    complaint: ticket.complaint,
    symptoms: ticket.symptoms,
    siteId: ticket.siteId,
  }));
  return { items, waiting, weighed: tickets.length };
}
