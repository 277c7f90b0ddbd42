import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses a visit at which nothing can have been used: one nobody has arrived at, or one of another
 * technician. Locked until the transaction ends, so that what was used there is counted by one at a
 * time.
 * @throws ProblemError 409 unless it is on site or finished, 422 for a visit that is not theirs
 */
export async function requireVisited(act: ActContext, visitId: string): Promise<void> {
  await lockRow(act.tx, 'visit', visitId);
  const visit = await act.tx.visit.findUnique({ where: { id: visitId } });
  const isForeign = act.actor.role === 'technician' && visit?.technicianId !== act.actor.id;
  if (visit === null || isForeign) throw unknownReference('/visitId', 'There is no such visit.');
  if (visit.state === 'on_site' || visit.state === 'finished') return;
  throw new ProblemError(
    'not-allowed-now',
    `Parts are used on site; this visit is ${visit.state.replaceAll('_', ' ')}.`,
    { currentState: visit.state, allowedActions: [] },
  );
}
