import { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import { instant, oneOrMore } from '../platform/http/formats.ts';
import { cutPage, orderQuery, pageQuery, readOn, startAfter } from '../platform/http/page.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { visitBody } from './answer-visit.ts';
import { visitStateSchema } from './contract.ts';

/** What visits are listed by. */
export const visitListQuery = z.strictObject({
  ...pageQuery,
  ...orderQuery,
  ticketId: z.uuid().optional(),
  technicianId: z.uuid().optional(),
  state: oneOrMore(visitStateSchema).optional(),
  startsFrom: instant.optional(),
  startsBefore: instant.optional(),
});

/**
 * Visits in the order of their booking, a page at a time; a technician's own ones only.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listVisits(
  { prisma, actor }: { prisma: Pick<Tx, 'visit'>; actor: ActContext['actor'] },
  { limit, cursor, ...chosen }: z.output<typeof visitListQuery>,
) {
  const { ticketId, technicianId, state, startsFrom, startsBefore } = chosen;
  const filter = { list: 'visits', ...chosen };
  const { where, orderBy } = readOn(chosen.order, startAfter(cursor, filter));
  const rows = await prisma.visit.findMany({
    where: {
      AND: [
        where,
        ticketId ? { ticketId } : {},
        technicianId ? { technicianId } : {},
        state ? { state: { in: state } } : {},
        ownVisits(actor),
        startsFrom ? { windowStart: { gte: startsFrom } } : {},
        startsBefore ? { windowStart: { lt: startsBefore } } : {},
      ],
    },
    orderBy,
    take: limit + 1,
  });
  return cutPage(rows.map(visitBody), limit, filter);
}
