import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import { BILLED_UNIT_COST_CENTS } from './billed-unit-cost.ts';
import type { costChangeSchema } from './contract.ts';
import { differenceOf } from './difference-of.ts';

export type CostChange = z.output<typeof costChangeSchema>;

/**
 * Parts of a price book that cost something else on the bill of the latest date, by code. What went
 * back and what came free says nothing about a cost.
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

const CHANGES = `
  WITH l AS (
    SELECT DISTINCT ON (part_code) part_code, quantity, amount_cents,
      bill_id, supplier, number, billed_on
    FROM supplier_bill_line JOIN supplier_bill b ON b.id = bill_id
    WHERE part_code IS NOT NULL AND quantity > 0 AND amount_cents > 0
    ORDER BY part_code, billed_on DESC, recorded_at DESC, bill_id DESC, position DESC)
  SELECT p.code AS "partCode", p.name, p.unit, trim_scale(p.pack_quantity)::text AS "packQuantity",
    ${BILLED_UNIT_COST_CENTS}::float8 AS "billedCents", p.cost_cents AS "bookCents",
    l.bill_id AS "billId", l.supplier, l.number, l.billed_on::text AS "billedOn"
  FROM l JOIN price_book_part p ON p.version_id = $1 AND p.code = l.part_code
  WHERE ${BILLED_UNIT_COST_CENTS} <> p.cost_cents AND ($2::text IS NULL OR p.code > $2)
  ORDER BY p.code LIMIT $3`;
