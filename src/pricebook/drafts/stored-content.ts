import type { Sql } from '../../platform/database/database.ts';
import { type BookContent, bookContentSchema } from '../contract.ts';

/** The whole content of a published price book; undefined when there is no such version. */
export async function storedContent(sql: Sql, id: string): Promise<BookContent | undefined> {
  const { rows } = await sql.query<{ content: unknown }>(CONTENT, [id]);
  const [row] = rows;
  return row && bookContentSchema.parse(row.content);
}

// One value: fifty thousand parts as rows would take longer to be unpacked than to be read.
const CONTENT = `
  SELECT json_build_object(
    'rates', rates, 'tiers', tiers, 'policy', policy, 'periods', periods,
    'agreements', agreements, 'replacements', replacements,
    'tasks', (
      SELECT coalesce(json_agg(json_build_object(
        'code', code, 'name', name, 'minutes', minutes,
        'accessGroup', access_group, 'accessMinutes', access_minutes
      ) ORDER BY code COLLATE "C"), '[]')
      FROM price_book_task WHERE version_id = version.id),
    'parts', (
      SELECT coalesce(json_agg(json_strip_nulls(json_build_object(
        'code', code, 'name', name, 'costCents', cost_cents, 'taxClass', tax_class,
        'warrantyClass', warranty_class, 'supplier', supplier,
        'measured', CASE WHEN unit IS NOT NULL THEN
          json_build_object('unit', unit, 'packQuantity', trim_scale(pack_quantity)::text) END,
        'fit', json_build_object('category', category, 'specs', specs)
      )) ORDER BY code COLLATE "C"), '[]')
      FROM price_book_part WHERE version_id = version.id)
  ) AS content
  FROM price_book_version version WHERE id = $1`;
