import type { z } from 'zod';
import type { Ticket } from '../platform/database/generated/client.ts';
import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newTicketSchema } from './contract.ts';
import { writeTicket } from './write-ticket.ts';

/**
 * Opens a ticket from a call.
 * @throws ProblemError 422 for a site or caller that does not exist
 */
export async function openTicket(
  act: ActContext,
  input: z.output<typeof newTicketSchema>,
): Promise<Ticket> {
  const site = await act.tx.site.findUnique({ where: { id: input.siteId } });
  if (site === null) throw unknownReference('/siteId', 'There is no such site.');
  const callerId = input.callerId ?? site.occupantId;
  const caller = await act.tx.customer.findUnique({ where: { id: callerId, erasure: null } });
  if (caller === null) throw unknownReference('/callerId', 'There is no such customer.');
  return writeTicket(act, { ...input, siteId: site.id, callerId });
}
