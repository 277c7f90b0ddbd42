import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { type closingSchema, complaintGoneSchema } from './contract.ts';

/**
 * How a ticket was closed, each time, and what reopened it.
 * @throws ProblemError 404 for a ticket that is not theirs
 */
export async function closingsOf(
  prisma: Pick<Tx, 'ticket'>,
  { actor }: Pick<ActContext, 'actor'>,
  ticketId: string,
): Promise<z.input<typeof closingSchema>[]> {
  const ticket = await prisma.ticket.findUnique({
    where: { id: ticketId, site: ownSites(actor) },
    select: {
      closings: { orderBy: { sequence: 'asc' }, include: { callback: true, uncured: true } },
    },
  });
  if (ticket === null) throw notFound('ticket');
  return ticket.closings.map(({ ticketId: _, callback, uncured, ...closing }) => ({
    ...closing,
    didNotCure: uncured.map(({ findingId }) => findingId).sort(),
    complaintGone: complaintGoneSchema.parse(closing.complaintGone),
    closedAt: closing.closedAt.toISOString(),
    callback: callback && {
      complaint: callback.complaint,
      reopenedAt: callback.reopenedAt.toISOString(),
      reopenedById: callback.reopenedById,
    },
  }));
}
