import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { BILLED_UNIT_COST_CENTS, UNIT_COST_CENTS_MAX } from './billed-unit-cost.ts';
import type { billSchema } from './contract.ts';
import { differenceOf } from './difference-of.ts';
import { seesCosts } from './sees-costs.ts';

export type BillBody = z.input<typeof billSchema>;

/**
 * Bills in the order given, each line of a known part with what it charged for a piece or a pack,
 * and for who may see it beside the cost in a price book.
 */
export async function readBills(
  { sql, actor }: { sql: Sql; actor: ReadContext['actor'] },
  ids: readonly string[],
  priceBookId: string,
): Promise<BillBody[]> {
  const heads = await sql.query<HeadRow>(HEADS, [ids]);
  const lines = await sql.query<LineRow>(LINES, [ids, priceBookId]);
  const bodies = new Map<string, BillBody>();
  for (const { recordedAt, ...head } of heads.rows) {
    bodies.set(head.id, { ...head, recordedAt: recordedAt.toISOString(), lines: [] });
  }
  const withBook = seesCosts(actor);
  for (const { billId, ...line } of lines.rows) {
    bodies.get(billId)?.lines.push(lineBody(line, withBook));
  }
  return [...bodies.values()];
}

type Line = BillBody['lines'][number];

interface HeadRow extends Omit<BillBody, 'recordedAt' | 'lines'> {
  recordedAt: Date;
}

interface LineRow extends Omit<Line, 'unitCost'> {
  billId: string;
  unit: string | null;
  packQuantity: string | null;
  billedCents: number;
  bookCents: number | null;
}

function lineBody(
  { unit, packQuantity, billedCents, bookCents, ...line }: Omit<LineRow, 'billId'>,
  withBook: boolean,
): Line {
  // A bill is checked against the book of its day; a later one may have other packs.
  if (bookCents === null || billedCents > UNIT_COST_CENTS_MAX) return { ...line, unitCost: null };
  const beside = withBook && { bookCents, ...differenceOf(billedCents, bookCents) };
  return { ...line, unitCost: { unit, packQuantity, billedCents, ...beside } };
}

const HEADS = `
  SELECT id, supplier, number, billed_on::text AS "billedOn", place_id AS "placeId",
    other_cents AS "otherCents", total_cents AS "totalCents", recorded_at AS "recordedAt",
    recorded_by_id AS "recordedById"
  FROM supplier_bill WHERE id = ANY ($1::uuid[]) ORDER BY array_position($1::uuid[], id)`;

const LINES = `
  SELECT l.bill_id AS "billId", l.position, l.part_code AS "partCode", l.description,
    trim_scale(l.quantity)::text AS quantity, l.amount_cents AS "amountCents",
    p.unit, trim_scale(p.pack_quantity)::text AS "packQuantity", p.cost_cents AS "bookCents",
    ${BILLED_UNIT_COST_CENTS}::float8 AS "billedCents"
  FROM supplier_bill_line l
    LEFT JOIN price_book_part p ON p.version_id = $2 AND p.code = l.part_code
  WHERE l.bill_id = ANY ($1::uuid[]) ORDER BY l.bill_id, l.position`;
