import type { Sql } from '../platform/database/database.ts';
import { BILLED_UNIT_COST_CENTS, UNIT_COST_CENTS_MAX } from './billed-unit-cost.ts';

/** What a supplier billed for one piece of a part, or for one pack. */
export interface BilledPartCost {
  readonly partCode: string;
  /** Local day. */
  readonly billedOn: string;
  readonly unitCostCents: number;
}

/**
 * What suppliers billed for the parts of a price book, from one local day to another, the oldest
 * first. What went back and what came free says nothing about a cost.
 */
export async function billedCosts(
  sql: Sql,
  priceBookId: string,
  days: { from: string; to: string },
): Promise<BilledPartCost[]> {
  return (await sql.query<BilledPartCost>(BILLED, [priceBookId, days.from, days.to])).rows;
}

const BILLED = `
  SELECT p.code AS "partCode", b.billed_on::text AS "billedOn",
    billed.cents::float8 AS "unitCostCents"
  FROM price_book_part p
  JOIN supplier_bill_line l ON l.part_code = p.code
  JOIN supplier_bill b ON b.id = l.bill_id
  CROSS JOIN LATERAL (SELECT CASE WHEN l.quantity > 0 THEN ${BILLED_UNIT_COST_CENTS} END AS cents)
    billed
  WHERE p.version_id = $1 AND b.billed_on BETWEEN $2 AND $3 AND l.quantity > 0
    AND l.amount_cents > 0 AND billed.cents <= ${UNIT_COST_CENTS_MAX}
  ORDER BY b.billed_on, b.recorded_at, l.bill_id, l.position`;
