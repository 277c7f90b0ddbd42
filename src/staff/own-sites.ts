import type { Actor } from '../platform/access/actor.ts';
import type { Prisma } from '../platform/database/generated/client.ts';

/**
 * Which sites a member of staff may see and change, as a condition to read them by: a technician
 * those with a visit of theirs, unless it was cancelled; the others every site. What belongs to a
 * site (its systems, machines and tickets) is read through this condition too, so that what is not
 * theirs is not there for them, and the refusal is the one for what does not exist.
 */
export function ownSites({ role, id }: Actor): Prisma.SiteWhereInput {
  if (role !== 'technician') return {};
  const visited = { technicianId: id, state: { not: 'cancelled' } } as const;
  return { tickets: { some: { visits: { some: visited } } } };
}

/**
 * Which customers a member of staff may see: a technician those who live at, decide for or pay for
 * one of their own sites, or called from one; the others everybody, with a site or without.
 */
export function ownCustomers(actor: Actor): Prisma.CustomerWhereInput {
  if (actor.role !== 'technician') return {};
  const own = { some: ownSites(actor) };
  const called = { some: { site: ownSites(actor) } };
  return { OR: [{ occupies: own }, { approves: own }, { pays: own }, { tickets: called }] };
}
