import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { allowedActions, visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, ProblemError, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newPlanSchema } from './contract.ts';
import { daysOf, holdDays } from './hold-days.ts';
import { joinTrips } from './join-trips.ts';
import { type PlannedColumns, plannedColumns } from './planned-columns.ts';
import { takenOrThrow } from './taken-or-throw.ts';

/**
 * Plans the work of a booked visit anew, inside the window that was promised: nobody has to be
 * asked, and the fee stays. Where two trips become one by it, the later visit loses its own.
 * @throws ProblemError 404; 400 outside the window; 409 once somebody has set out, or when the
 *   technician has other work at that time; 412 when somebody moved it first
 */
export async function planVisit(
  act: ActContext,
  visitId: string,
  { planned }: z.output<typeof newPlanSchema>,
): Promise<Visit> {
  const found = await act.tx.visit.findUnique({
    where: { id: visitId },
    include: { ticket: { select: { siteId: true } } },
  });
  if (found === null) throw notFound('visit');
  const days = await holdDays(act.tx, daysOf(found));
  await lockRow(act.tx, 'visit', visitId);
  const visit = await act.tx.visit.findUniqueOrThrow({ where: { id: visitId } });
  act.mustMatch(versionTag(visit.version));
  if (visit.state !== 'booked') {
    const why = 'Only work that nobody has set out for is planned anew.';
    throw new ProblemError('not-allowed-now', why, {
      currentState: visit.state,
      action: 'plan',
      allowedActions: allowedActions(visitLifecycle, visit.state),
    });
  }
  const work = plannedColumns(planned);
  if (work.plannedStart < visit.windowStart || work.plannedStart > visit.windowEnd) {
    throw wrongField('/planned/start', 'outside_window', 'must lie in the arrival window');
  }
  await writePlan(act, visit, work);
  await joinTrips(act, days);
  return act.tx.visit.findUniqueOrThrow({ where: { id: visitId } });
}

async function writePlan(act: ActContext, visit: Visit, work: PlannedColumns): Promise<void> {
  await act.tx.visit
    .update({ where: { id: visit.id }, data: { ...work, version: visit.version + 1 } })
    .catch(takenOrThrow);
  const { plannedStart, plannedEnd } = visit;
  await appendJournal(act, {
    event: 'visit.planned',
    subject: { kind: 'visit', id: visit.id },
    before: { plannedStart, plannedEnd },
    after: { ...work },
  });
}
