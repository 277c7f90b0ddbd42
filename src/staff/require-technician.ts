import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses whoever is no technician here, or no longer.
 * @throws ProblemError 422
 */
export async function requireTechnician({ tx }: ActContext, id: string): Promise<void> {
  const staff = await tx.staff.findUnique({ where: { id } });
  if (staff?.role !== 'technician' || staff.disabledAt !== null) {
    throw unknownReference('/technicianId', 'There is no such technician.');
  }
}
