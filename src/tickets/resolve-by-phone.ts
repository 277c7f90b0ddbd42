import type { z } from 'zod';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { phoneResolutionSchema } from './contract.ts';
import { lockTicket } from './move-ticket.ts';
import { solveByPhone } from './solve-by-phone.ts';

/**
 * Ends a ticket that a safe check on the phone has solved, without the dialogue of phone checks.
 * @throws ProblemError as `solveByPhone`; 412 for another version of the ticket
 */
export async function resolveByPhone(
  act: ActContext,
  ticketId: string,
  input: z.output<typeof phoneResolutionSchema>,
): Promise<Ticket> {
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  return solveByPhone(act, ticket, input);
}
