import type { z } from 'zod';
import { companyOf, localInstant } from '../company/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import type { affectedVisitSchema } from './contract.ts';

/** What is booked with somebody, and when its work is planned. */
export interface LiveVisit {
  work: { start: Date; end: Date };
  told: z.input<typeof affectedVisitSchema>;
}

/** The first and the last of some local days, as `2026-07-14`; without a last one all that come. */
export interface LiveDays {
  firstDay: string;
  lastDay?: string;
}

/**
 * What is booked with a technician, or under way, with work that is planned to begin on one of some
 * local days; the whole window is planned where nothing finer is.
 */
export async function liveVisitsOn(
  prisma: Pick<Tx, 'company' | 'visit'>,
  technicianId: string,
  { firstDay, lastDay }: LiveDays,
): Promise<LiveVisit[]> {
  const { timeZone } = await companyOf(prisma);
  const then = {
    gte: localInstant(firstDay, 0, timeZone),
    ...(lastDay !== undefined && { lt: localInstant(plusDays(lastDay, 1), 0, timeZone) }),
  };
  const visits = await prisma.visit.findMany({
    where: {
      technicianId,
      state: { in: ['booked', 'on_the_way', 'on_site'] },
      OR: [{ plannedStart: then }, { plannedStart: null, windowStart: then }],
    },
    include: { ticket: { select: { number: true } } },
    orderBy: [{ windowStart: 'asc' }, { id: 'asc' }],
  });
  return visits.map((visit) => ({ work: workOf(visit), told: told(visit) }));
}

function workOf({ plannedStart, plannedEnd, windowStart, windowEnd }: Visit): LiveVisit['work'] {
  return { start: plannedStart ?? windowStart, end: plannedEnd ?? windowEnd };
}

function told({
  id,
  ticketId,
  ticket,
  state,
  ...times
}: Visit & { ticket: { number: number } }): LiveVisit['told'] {
  return {
    visitId: id,
    ticketId,
    ticketNumber: ticket.number,
    state,
    windowStart: times.windowStart.toISOString(),
    windowEnd: times.windowEnd.toISOString(),
    plannedStart: times.plannedStart?.toISOString() ?? null,
    plannedEnd: times.plannedEnd?.toISOString() ?? null,
  };
}
