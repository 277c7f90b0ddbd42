import { sqlOf, type Tx } from '../platform/database/database.ts';

/**
 * The findings of a visit by which work of ours has come back: the same fault of the same system
 * was mended under another quote, and the labor of that is still warranted. Of what was mended at
 * the same visit only what was found after it counts: the finding that the work mended, written
 * twice, is no second fault.
 * @param today the local day; the last day of the warranty still counts
 * @param exceptQuoteId the quote whose own work is no recall of itself
 */
export async function recalledFindings(
  tx: Tx,
  visitId: string,
  today: string,
  exceptQuoteId?: string,
): Promise<ReadonlySet<string>> {
  const { rows } = await sqlOf(tx).query<{ id: string }>(RECALLED, [
    visitId,
    today,
    exceptQuoteId ?? null,
  ]);
  return new Set(rows.map(({ id }) => id));
}

const RECALLED = `
  SELECT f.id FROM finding f JOIN equipment e ON e.id = f.equipment_id
  WHERE f.visit_id = $1 AND EXISTS (
    SELECT 1 FROM equipment same_system
    JOIN finding mended ON mended.equipment_id = same_system.id
    JOIN work_outcome w ON w.finding_id = mended.id
    WHERE same_system.system_id = e.system_id AND mended.fault_code = f.fault_code
      AND (mended.visit_id <> f.visit_id OR f.found_at > w.recorded_at)
      AND w.outcome = 'done' AND w.labor_warranty_until >= $2::date
      AND w.quote_id IS DISTINCT FROM $3::uuid)`;
