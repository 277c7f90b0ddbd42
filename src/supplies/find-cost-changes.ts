import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import { BILLED_UNIT_COST_CENTS, UNIT_COST_CENTS_MAX } from './billed-unit-cost.ts';
import type { costChangeSchema } from './contract.ts';
import { differenceOf } from './difference-of.ts';

export type CostChange = z.output<typeof costChangeSchema>;

/**
 * Parts of a price book that cost something else on the bill of the latest date, by code. What went
 * back and what came free says nothing about a cost, nor does a line that would make a pack dearer than
 * the book can hold: it counted another pack.
 */
export async function findCostChanges(
  sql: Sql,
  priceBookId: string,
  { after, limit }: { after: string | undefined; limit: number },
): Promise<CostChange[]> {
  const found = await sql.query<Row>(CHANGES, [priceBookId, after ?? null, limit]);
  return found.rows.map(({ billId, supplier, number, billedOn, ...part }) => ({
    ...part,
    ...differenceOf(part.billedCents, part.bookCents),
    bill: { id: billId, supplier, number, billedOn },
  }));
}

interface Row {
  partCode: string;
  name: string;
  unit: string | null;
  packQuantity: string | null;
  billedCents: number;
  bookCents: number;
  billId: string;
  supplier: string;
  number: string;
  billedOn: string;
}

// The parts are walked by the key of their table, and for each its own lines are looked up, so a
// page costs as much as its parts and not as much as all bills there ever were.
const CHANGES = `
  SELECT p.code AS "partCode", p.name, p.unit, trim_scale(p.pack_quantity)::text AS "packQuantity",
    billed.cents::float8 AS "billedCents", p.cost_cents AS "bookCents",
    l.bill_id AS "billId", l.supplier, l.number, l.billed_on::text AS "billedOn"
  FROM price_book_part p
    CROSS JOIN LATERAL (
      SELECT line.quantity, line.amount_cents, line.bill_id, b.supplier, b.number, b.billed_on
      FROM supplier_bill_line line JOIN supplier_bill b ON b.id = line.bill_id
      WHERE line.part_code = p.code AND line.quantity > 0 AND line.amount_cents > 0
      ORDER BY b.billed_on DESC, b.recorded_at DESC, line.bill_id DESC, line.position DESC
      LIMIT 1) l
    CROSS JOIN LATERAL (SELECT ${BILLED_UNIT_COST_CENTS} AS cents) billed
  WHERE p.version_id = $1 AND p.code > coalesce($2, '')
    AND billed.cents <> p.cost_cents AND billed.cents <= ${UNIT_COST_CENTS_MAX}
  ORDER BY p.code LIMIT $3`;
