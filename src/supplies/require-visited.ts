import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';

/**
 * Refuses a visit at which nothing can have been used: one nobody has arrived at, or one of another
 * technician. Locked until the transaction ends, so that what was used there is counted by one at a
 * time.
 * @throws ProblemError 409 unless it is on site or finished, 422 for a visit that is not theirs
 */
export async function requireVisited(act: ActContext, visitId: string): Promise<void> {
  const where = { id: visitId, AND: ownVisits(act.actor) };
  // Before the lock: nobody holds or waits for what is another's.
  const isTheirs = (await act.tx.visit.count({ where })) > 0;
  if (isTheirs) await lockRow(act.tx, 'visit', visitId);
  const visit = isTheirs ? await act.tx.visit.findUnique({ where }) : null;
  if (visit === null) throw unknownReference('/visitId', 'There is no such visit.');
  if (visit.state === 'on_site' || visit.state === 'finished') return;
  throw new ProblemError(
    'not-allowed-now',
    `Parts are used on site; this visit is ${visit.state.replaceAll('_', ' ')}.`,
    { currentState: visit.state, allowedActions: [] },
  );
}
