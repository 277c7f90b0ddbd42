import type { z } from 'zod';
import type { Prisma, PrismaClient } from '../platform/database/generated/client.ts';
import { endedStates, ticketKindSchema } from '../tickets/index.ts';
import type { glanceSchema } from './contract.ts';

/** The tickets of a site that have not ended, each with who is booked or on the way. */
export async function openTicketsAt(
  prisma: Pick<PrismaClient, 'ticket'>,
  siteId: string,
): Promise<z.input<typeof glanceSchema>['openTickets']> {
  const tickets = await prisma.ticket.findMany({
    where: { siteId, state: { notIn: endedStates } },
    orderBy: { number: 'asc' },
    select: {
      id: true,
      number: true,
      kind: true,
      state: true,
      complaint: true,
      symptoms: true,
      createdAt: true,
      visits: liveVisits,
    },
  });
  return tickets.map(({ visits, kind, createdAt, ...ticket }) => ({
    ...ticket,
    kind: ticketKindSchema.parse(kind),
    createdAt: createdAt.toISOString(),
    visits: visits.map(({ id, state, technician, windowStart, windowEnd }) => ({
      id,
      state,
      technicianName: technician.name,
      windowStart: windowStart.toISOString(),
      windowEnd: windowEnd.toISOString(),
    })),
  }));
}

const liveVisits = {
  where: { state: { in: ['booked', 'on_the_way', 'on_site'] } },
  orderBy: { windowStart: 'asc' },
  select: {
    id: true,
    state: true,
    windowStart: true,
    windowEnd: true,
    technician: { select: { name: true } },
  },
} satisfies Prisma.Ticket$visitsArgs;
