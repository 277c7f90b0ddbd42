import { unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses people who do not exist, or who were erased.
 * @param named by the field that names each
 * @throws ProblemError 422 at the first field that names nobody
 */
export async function requireCustomers(
  act: ActContext,
  named: Record<string, string>,
): Promise<void> {
  const found = await act.tx.customer.findMany({
    where: { id: { in: Object.values(named) }, erasure: null },
    select: { id: true },
  });
  const known = new Set(found.map((customer) => customer.id));
  for (const [field, id] of Object.entries(named)) {
    if (!known.has(id)) throw unknownReference(`/${field}`, 'There is no such customer.');
  }
}
