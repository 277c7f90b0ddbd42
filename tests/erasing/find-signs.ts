import type pg from 'pg';

/**
 * In which columns of which tables anything tells who a person is, and how often: asked of the
 * catalog, so that a column added later is looked into as well. Bytes are looked into as text.
 */
export async function findSigns(
  pool: pg.Pool,
  signs: readonly string[],
): Promise<Record<string, number>> {
  const { rows: columns } = await pool.query<{ table: string; column: string; type: string }>(`
    SELECT c.relname AS table, a.attname AS column, a.atttypid::regtype::text AS type
    FROM pg_class c JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0
      AND NOT a.attisdropped
    WHERE c.relnamespace = 'public'::regnamespace AND c.relkind = 'r'
      AND c.relname <> '_prisma_migrations'
    ORDER BY 1, a.attnum`);
  const found: Record<string, number> = {};
  for (const { table, column, type } of columns) {
    const text = type === 'bytea' ? `encode("${column}", 'escape')` : `"${column}"::text`;
    const { rows } = await pool.query<{ count: number }>(
      `SELECT count(*)::int AS count FROM "${table}"
       WHERE EXISTS (SELECT FROM unnest($1::text[]) AS sign
         WHERE strpos(lower(${text}), lower(sign)) > 0)`,
      [signs],
    );
    if (rows[0] !== undefined && rows[0].count > 0) found[`${table}.${column}`] = rows[0].count;
  }
  return found;
}
