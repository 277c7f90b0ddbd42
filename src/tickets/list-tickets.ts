import { z } from 'zod';
import { oneOrMore } from '../platform/http/formats.ts';
import { cutPage, orderQuery, pageQuery, readOn, startAfter } from '../platform/http/page.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { ticketBodies } from './answer-ticket.ts';
import { ticketStateSchema } from './contract.ts';

/** What tickets are listed by. */
export const ticketListQuery = z.strictObject({
  ...pageQuery,
  ...orderQuery,
  state: oneOrMore(ticketStateSchema).optional(),
  siteId: z.uuid().optional(),
  number: z.coerce.number().int().min(1).max(2_147_483_647).optional().meta({
    description: 'The number people say on the phone.',
  }),
});

/**
 * Tickets, a page at a time; a technician's of own sites only.
 * @throws ProblemError 400 for a cursor of another list
 */
export async function listTickets(
  { prisma, sql, actor }: Pick<ReadContext, 'prisma' | 'sql' | 'actor'>,
  { limit, cursor, ...chosen }: z.output<typeof ticketListQuery>,
) {
  const { state, siteId, number } = chosen;
  const filter = { list: 'tickets', ...chosen };
  const { where, orderBy } = readOn(chosen.order, startAfter(cursor, filter));
  const rows = await prisma.ticket.findMany({
    where: {
      ...(state && { state: { in: state } }),
      site: ownSites(actor),
      ...(siteId && { siteId }),
      ...(number && { number }),
      ...where,
    },
    orderBy,
    take: limit + 1,
  });
  return cutPage(await ticketBodies(sql, rows), limit, filter);
}
