import type { z } from 'zod';
import type { ReadContext } from '../platform/http/route.ts';
import { byPriority } from '../priority/index.ts';
import type { waitingTicketSchema } from './contract.ts';
import { priorityBody } from './priority-body.ts';
import { priorityOf } from './priority-of.ts';
import { unbookedStates } from './waiting-states.ts';

type WaitingBody = z.input<typeof waitingTicketSchema>;

/** More than a hundred technicians can be sent to; the rest is counted. */
const QUIET_MAX = 1_000;

/**
 * Tickets that nobody is booked for, most urgent first: by rank, then by score, then the older call.
 * All of which something was told by phone, or that somebody ranked by hand, are weighed: a danger
 * is never one too many. Of more than a thousand others the oldest are; `weighed` says so.
 */
export async function listWaiting(
  context: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  limit: number,
): Promise<{ items: WaitingBody[]; waiting: number; weighed: number }> {
  const { prisma } = context;
  const where = { state: { in: [...unbookedStates] } };
  const told = { OR: [{ phoneChecks: { some: {} } }, { overrides: { some: {} } }] };
  const orderBy = [{ createdAt: 'asc' as const }, { id: 'asc' as const }];
  const [waiting, loud, quiet] = await Promise.all([
    prisma.ticket.count({ where }),
    prisma.ticket.findMany({ where: { ...where, ...told }, orderBy }),
    prisma.ticket.findMany({ where: { ...where, NOT: told }, orderBy, take: QUIET_MAX }),
  ]);
  const tickets = [...loud, ...quiet];
  const priorities = await priorityOf(
    context,
    tickets.map(({ id }) => id),
  );
  const ranked = tickets.flatMap((ticket) => {
    const priority = priorities.get(ticket.id);
    return priority === undefined ? [] : [{ ticket, priority }];
  });
  ranked.sort(
    (a, b) =>
      byPriority(a.priority, b.priority) ||
      a.ticket.createdAt.getTime() - b.ticket.createdAt.getTime() ||
      a.ticket.number - b.ticket.number,
  );
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
