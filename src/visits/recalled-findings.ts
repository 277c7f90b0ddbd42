import type { Sql } from '../platform/database/database.ts';

/** A finding by which work of ours has come back. */
export interface RecalledFinding {
  id: string;
  /** It was mended at an earlier trip, so that this one is for our own work. */
  fromEarlierTrip: boolean;
}

/**
 * The findings of a visit by which work of ours has come back: the same fault of the same system
 * was mended before, under a yes that stands, and the labor of that is still warranted. Of what was
 * mended at the same visit only what was found after it counts: the finding that the work mended,
 * written twice, is no second fault. Neither is it one when the work was done at a later trip. The
 * audit has it so, too (`src/auditing/rules/came-back.ts`).
 * @param day the local day by which the warranty is looked at, its last day included; without it
 *   the day of arrival
 */
export async function recalledFindings(
  sql: Sql,
  visitId: string,
  day?: string,
): Promise<RecalledFinding[]> {
  const { rows } = await sql.query<RecalledFinding>(RECALLED, [visitId, day ?? null]);
  return rows;
}

// Two trips that arrive in one instant are in the order in which they were booked.
const RECALLED = `
  SELECT f.id, bool_or(w.visit_id <> f.visit_id) AS "fromEarlierTrip"
  FROM finding f
  JOIN visit v ON v.id = f.visit_id
  JOIN equipment e ON e.id = f.equipment_id
  JOIN equipment same ON same.system_id = e.system_id
  JOIN finding mended ON mended.equipment_id = same.id AND mended.fault_code = f.fault_code
  JOIN standing_outcome w ON w.finding_id = mended.id
  JOIN visit done_at ON done_at.id = w.visit_id
  CROSS JOIN company c
  WHERE f.visit_id = $1 AND w.outcome = 'done'
    AND w.labor_warranty_until
      >= coalesce($2::date, (v.arrived_at AT TIME ZONE c.time_zone)::date)
    AND CASE WHEN w.visit_id = f.visit_id THEN f.found_at > w.recorded_at
      ELSE (done_at.arrived_at, done_at.id) < (v.arrived_at, v.id) END
    AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = w.quote_id)
  GROUP BY f.id
  ORDER BY f.id`;
