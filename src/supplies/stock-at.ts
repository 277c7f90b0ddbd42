import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import type { stockSchema } from './contract.ts';

/**
 * What should lie at a place by part code, with the targets there; also what has a target and never
 * came. Names are those of the latest book that has the part: one that left the book still lies
 * there.
 */
export async function stockAt(
  sql: Sql,
  placeId: string,
  filter: { isBelowZero: boolean; after: string | undefined; limit: number; now: Date },
): Promise<z.output<typeof stockSchema>[]> {
  const { isBelowZero, after, limit, now } = filter;
  const found = await sql.query<Row>(STOCK, [placeId, isBelowZero, after ?? null, limit, now]);
  return found.rows.map(({ reorderAt, orderUpTo, version, ...part }) => ({
    ...part,
    target:
      reorderAt === null || orderUpTo === null || version === null
        ? null
        : { reorderAt, orderUpTo, version },
  }));
}

interface Row {
  partCode: string;
  name: string;
  unit: string | null;
  level: string;
  reorderAt: string | null;
  orderUpTo: string | null;
  version: number | null;
}

const STOCK = `
  SELECT part_code AS "partCode", part.name, part.unit,
    trim_scale(coalesce(l.quantity, 0))::text AS level,
    trim_scale(t.reorder_at)::text AS "reorderAt", trim_scale(t.order_up_to)::text AS "orderUpTo",
    t.version
  FROM (SELECT * FROM stock_level WHERE place_id = $1) l
    FULL JOIN (SELECT * FROM stock_target WHERE place_id = $1) t USING (part_code)
    CROSS JOIN LATERAL (
      SELECT p.name, p.unit FROM price_book_part p JOIN price_book_version v ON v.id = p.version_id
      WHERE p.code = part_code AND v.effective_from <= $5
      ORDER BY v.effective_from DESC, v.number DESC LIMIT 1) part
  WHERE (NOT $2 OR l.quantity < 0) AND ($3::text IS NULL OR part_code > $3)
  ORDER BY part_code LIMIT $4`;
