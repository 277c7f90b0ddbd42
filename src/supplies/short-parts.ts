import type { Sql } from '../platform/database/database.ts';

/** A part at or under its reorder point at a place, and what a price book says of it. */
export interface ShortPart {
  partCode: string;
  placeId: string;
  placeName: string;
  level: string;
  reorderAt: string;
  orderUpTo: string;
  /** Null when the book does not have it. */
  part: {
    name: string;
    supplier: string | null;
    costCents: number;
    unit: string | null;
    /** Null for what is counted in pieces. */
    packQuantity: string | null;
  } | null;
}

/** Everything at or under its reorder point, at one place or at all, by supplier, part and place. */
export async function shortParts(
  sql: Sql,
  priceBookId: string,
  placeId: string | undefined,
): Promise<ShortPart[]> {
  const found = await sql.query<ShortPart>(SHORT, [priceBookId, placeId ?? null]);
  return found.rows;
}

const SHORT = `
  SELECT t.part_code AS "partCode", t.place_id AS "placeId", s.name AS "placeName",
    trim_scale(coalesce(l.quantity, 0))::text AS level,
    trim_scale(t.reorder_at)::text AS "reorderAt", trim_scale(t.order_up_to)::text AS "orderUpTo",
    CASE WHEN p.code IS NOT NULL THEN json_build_object(
      'name', p.name, 'supplier', p.supplier, 'costCents', p.cost_cents, 'unit', p.unit,
      'packQuantity', trim_scale(p.pack_quantity)::text) END AS part
  FROM stock_target t
    JOIN stock_place s ON s.id = t.place_id
    LEFT JOIN stock_level l ON l.place_id = t.place_id AND l.part_code = t.part_code
    LEFT JOIN price_book_part p ON p.version_id = $1 AND p.code = t.part_code
  WHERE coalesce(l.quantity, 0) <= t.reorder_at AND ($2::uuid IS NULL OR t.place_id = $2)
  ORDER BY p.supplier NULLS LAST, t.part_code, s.name`;
