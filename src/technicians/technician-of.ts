import type { Actor } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import type { Staff, TechnicianProfile } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';

/** A technician with what is written down of them, if anything is. */
export type Technician = Staff & { profile: TechnicianProfile | null };

/** Who drives out: not the office, and not who has left. */
export const isTechnician = { role: 'technician', disabledAt: null } as const;

/**
 * A technician whom whoever asks may see: a technician only themselves.
 * @throws ProblemError 404, the same for somebody else and for nobody
 */
export async function technicianOf(
  prisma: Pick<Tx, 'staff'>,
  actor: Actor,
  id: string,
): Promise<Technician> {
  const isTheirs = actor.role !== 'technician' || actor.id === id;
  const technician = isTheirs
    ? await prisma.staff.findUnique({ where: { id, ...isTechnician }, include: { profile: true } })
    : null;
  if (technician === null) throw notFound('technician');
  return technician;
}
