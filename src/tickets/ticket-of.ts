import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';

/**
 * A ticket that whoever asks may see.
 * @throws ProblemError 404, the same for a ticket that does not exist and one of another's site
 */
export async function ticketOf(
  prisma: Pick<Tx, 'ticket'>,
  { actor }: Pick<ActContext, 'actor'>,
  id: string,
): Promise<Ticket> {
  const ticket = await prisma.ticket.findUnique({ where: { id, site: ownSites(actor) } });
  if (ticket === null) throw notFound('ticket');
  return ticket;
}
