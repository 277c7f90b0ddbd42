import type { Actor } from '../platform/access/actor.ts';
import type { Prisma } from '../platform/database/generated/client.ts';

/**
 * Which visits are a member of staff's, as a condition to read them by: a technician's those they
 * are or were sent to themselves; the others' all. It belongs into the very statement that reads:
 * then what is not theirs takes the same way as what is not there, and nobody learns by waiting.
 */
export function ownVisits({ role, id }: Actor): Prisma.VisitWhereInput {
  return role === 'technician' ? { technicianId: id } : {};
}

/**
 * Whose quotes, invoices and papers a member of staff may see, by their ticket: a technician those
 * of tickets with a visit of theirs that was not cancelled, for whoever comes back to do the work has
 * to see what was agreed to at a colleague's visit.
 */
export function ownTickets({ role, id }: Actor): Prisma.TicketWhereInput {
  if (role !== 'technician') return {};
  return { visits: { some: { technicianId: id, state: { not: 'cancelled' } } } };
}
