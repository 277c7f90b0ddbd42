import type { Actor } from '../platform/access/actor.ts';
import type { Prisma } from '../platform/database/generated/client.ts';

/** Whose papers a member of staff may see: a technician those of tickets with a visit of theirs. */
export function ownTickets({ role, id }: Actor): Prisma.TicketWhereInput {
  if (role !== 'technician') return {};
  return { visits: { some: { technicianId: id, state: { not: 'cancelled' } } } };
}
