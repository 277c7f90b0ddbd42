import type { EarlierRepair } from '../auditing/index.ts';
import type { BookShelf } from './book-shelf.ts';
import { instantOf } from './instant-of.ts';

/** A repair that was done before something was found on a ticket, on the same system. */
export interface ReadRepair {
  readonly ticketId: string;
  readonly repair: EarlierRepair;
}

/**
 * What was mended before on the systems of tickets: under yeses that stand, without what was struck
 * out, and before the last thing that was found there: recorded before it, or at a trip that arrived
 * before the last one at which something was found, however late it was written down.
 */
export async function readEarlierRepairs(
  rows: readonly RepairRow[],
  books: BookShelf,
): Promise<ReadRepair[]> {
  const read: ReadRepair[] = [];
  for (const { ticketId, partCodes, doneAt, arrivedAt, ...repair } of rows) {
    const book = partCodes.length === 0 ? undefined : await books.inForce(new Date(doneAt));
    const categories = partCodes.map((code) => book?.partFacts.get(code)?.category ?? code);
    const partCategories = [...new Set(categories)].sort();
    const at = {
      ...(arrivedAt !== null && { arrivedAt: instantOf(arrivedAt) }),
      doneAt: instantOf(doneAt),
    };
    read.push({ ticketId, repair: { ...repair, ...at, partCategories } });
  }
  return read;
}

export interface RepairRow extends Omit<EarlierRepair, 'partCategories' | 'doneAt' | 'arrivedAt'> {
  ticketId: string;
  arrivedAt: string | null;
  doneAt: string;
  partCodes: string[];
}

export const REPAIRS = `
  WITH mended_system AS (
    SELECT v.ticket_id, e.system_id, max(f.found_at) AS last_found_at,
      max(v.arrived_at) AS last_arrived_at
    FROM visit v JOIN finding f ON f.visit_id = v.id JOIN equipment e ON e.id = f.equipment_id
    WHERE v.ticket_id = ANY ($1)
    GROUP BY v.ticket_id, e.system_id)
  SELECT s.ticket_id AS "ticketId", t.number AS "ticketNumber", s.system_id AS "systemId",
    mended.fault_code AS "faultCode", mended.id AS "findingId", w.visit_id AS "visitId",
    done_at.arrived_at AS "arrivedAt", w.recorded_at AS "doneAt",
    (w.recorded_at AT TIME ZONE c.time_zone)::date::text AS "doneOn",
    w.labor_warranty_until::text AS "laborWarrantyUntil",
    ARRAY(SELECT DISTINCT u.part_code FROM part_use u
      WHERE u.quote_id = w.quote_id AND u.finding_id = w.finding_id
        AND NOT EXISTS (SELECT 1 FROM work_strike x WHERE x.part_use_id = u.id)) AS "partCodes"
  FROM mended_system s
  JOIN equipment same ON same.system_id = s.system_id
  JOIN finding mended ON mended.equipment_id = same.id
  JOIN standing_outcome w ON w.finding_id = mended.id AND w.outcome = 'done'
  JOIN visit done_at ON done_at.id = w.visit_id
    AND (w.recorded_at < s.last_found_at OR done_at.arrived_at < s.last_arrived_at
      OR (done_at.arrived_at = s.last_arrived_at AND done_at.ticket_id <> s.ticket_id))
  JOIN ticket t ON t.id = done_at.ticket_id
  CROSS JOIN company c
  WHERE NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = w.quote_id)
  ORDER BY s.ticket_id, w.recorded_at, w.id`;
