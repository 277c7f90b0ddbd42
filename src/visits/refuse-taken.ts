import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { PlannedColumns } from './planned-columns.ts';
import { windowTaken } from './taken-or-throw.ts';

/**
 * Refuses work over other work of a technician whose days are held, so that nobody is asked about
 * the fee of a time that is not to be had. The database refuses it anyway when it is written.
 * @throws ProblemError 409
 */
export async function refuseTaken(
  act: ActContext,
  technicianId: string,
  work: PlannedColumns,
): Promise<void> {
  if (await isTakenAt(act, technicianId, work)) throw windowTaken();
}

/** Whether a technician has live work at some time of a planned one. */
export async function isTakenAt(
  { tx }: ActContext,
  technicianId: string,
  { plannedStart, plannedEnd }: PlannedColumns,
): Promise<boolean> {
  const { rows } = await sqlOf(tx).query(TAKEN, [technicianId, plannedStart, plannedEnd]);
  return rows.length > 0;
}

// As the constraint visit_one_live_work_per_technician has it, whose index finds them.
const TAKEN = `
  SELECT 1 FROM visit
  WHERE technician_id = $1 AND state IN ('booked', 'on_the_way', 'on_site')
    AND tstzrange(coalesce(planned_start, window_start), coalesce(planned_end, window_end), '[)')
      && tstzrange($2, $3, '[)')
  LIMIT 1`;
