import type { z } from 'zod';
import { localDay } from '../company/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { byPriority } from '../priority/index.ts';
import type { waitingTicketSchema } from './contract.ts';
import { knownWaiting } from './known-of-tickets.ts';
import { priorityBody } from './priority-body.ts';
import { priorityOfKnown } from './priority-of.ts';

type WaitingBody = z.input<typeof waitingTicketSchema>;

/** More than a hundred technicians can be sent to; the rest is counted. */
const QUIET_MAX = 1_000;

/**
 * Tickets that nobody is booked for, most urgent first: by rank, then by score, then the older call.
 * All of which something was told by phone, or that somebody ranked by hand, are weighed: a danger
 * is never one too many. Of more than a thousand others the oldest are; `weighed` says so.
 */
export async function listWaiting(
  {
    prisma,
    sql,
    now,
    timeZone,
  }: Pick<ReadContext, 'prisma' | 'sql' | 'now'> & { timeZone: string },
  limit: number,
): Promise<{ items: WaitingBody[]; waiting: number; weighed: number }> {
  const today = localDay(now, timeZone);
  const { waiting, known } = await knownWaiting(sql, { today, quietMax: QUIET_MAX });
  const priorities = await priorityOfKnown({ prisma, now, timeZone }, known);
  const ranked = known.flatMap((ticket) => {
    const priority = priorities.get(ticket.ticketId);
    return priority === undefined ? [] : [{ ticket, priority }];
  });
  ranked.sort(
    (a, b) =>
      byPriority(a.priority, b.priority) ||
      a.ticket.createdAt.getTime() - b.ticket.createdAt.getTime() ||
      a.ticket.ticketNumber - b.ticket.ticketNumber,
  );
  const items = ranked.slice(0, limit).map(({ ticket, priority }) => {
    const { ticketNumber, state, complaint, symptoms, siteId } = ticket;
    return { ...priorityBody(priority), ...{ ticketNumber, state, complaint, symptoms, siteId } };
  });
  return { items, waiting, weighed: known.length };
}
