import type pg from 'pg';

/**
 * Puts copies of everything that hangs on the company's customers beside it: their sites, tickets,
 * visits, quotes, invoices, each row with identifiers and numbers of its own. What is the company's
 * own, such as staff and price books, is shared. Rows go past the triggers, and past the constraint
 * that keeps a technician from being in two places: with copies, everybody is.
 * @param copies how many times as large the company is then, 1 to 15; 1 changes nothing
 */
export async function copyCompany(client: pg.Client, copies: number): Promise<void> {
  await client.query('SET session_replication_role = replica');
  await client.query('SET synchronous_commit = off');
  await client.query(
    'ALTER TABLE visit DROP CONSTRAINT IF EXISTS visit_one_live_work_per_technician',
  );
  const tables = await copiedTables(client);
  const indexes = await takeIndexes(client, tables);
  for (const table of tables) {
    await client.query(await copyStatement(client, table, tables), [copies - 1]);
  }
  for (const index of indexes) await client.query(index);
  await client.query('RESET session_replication_role');
  await client.query('VACUUM ANALYZE');
}

/** An index is built again in a tenth of the time that keeping it row by row takes. */
async function takeIndexes(client: pg.Client, tables: readonly string[]): Promise<string[]> {
  await client.query(`SET maintenance_work_mem = '512MB'`);
  const { rows } = await client.query<{ name: string; definition: string }>(
    `SELECT indexrelid::regclass::text AS name, pg_get_indexdef(indexrelid) AS definition
     FROM pg_index WHERE indrelid::regclass::text = ANY ($1) AND NOT indisunique AND NOT EXISTS (
       SELECT FROM pg_constraint WHERE conindid = indexrelid)`,
    [tables],
  );
  for (const { name } of rows) await client.query(`DROP INDEX ${name}`);
  return rows.map(({ definition }) => definition);
}

/** What a customer or site is told of, and what is told of that, and so on. */
async function copiedTables(client: pg.Client): Promise<readonly string[]> {
  const { rows } = await client.query<{ name: string }>(`
    WITH RECURSIVE copied AS (
      SELECT unnest('{customer,site}'::regclass[]) AS name
      UNION
      SELECT conrelid::regclass FROM pg_constraint JOIN copied ON confrelid = copied.name
      WHERE contype = 'f'
    )
    SELECT name::text FROM copied ORDER BY name::text`);
  return rows.map(({ name }) => name);
}

interface Column {
  name: string;
  type: string;
  /** The tables it names rows of. */
  foreign: readonly string[];
  /** It alone tells its rows apart. */
  isUnique: boolean;
}

async function copyStatement(
  client: pg.Client,
  table: string,
  copied: readonly string[],
): Promise<string> {
  const { rows: columns } = await client.query<Column>(COLUMNS, [table]);
  const values: string[] = [];
  for (const column of columns) values.push(await valueIn(client, table, column, copied));
  const names = columns.map(({ name }) => `"${name}"`).join(', ');
  return `
    INSERT INTO ${table} (${names}) OVERRIDING SYSTEM VALUE
    SELECT ${values.join(', ')} FROM ${table}, generate_series(1, $1::int) AS copy`;
}

const COLUMNS = `
  SELECT a.attname AS name, format_type(a.atttypid, a.atttypmod) AS type,
    ARRAY (SELECT confrelid::regclass::text FROM pg_constraint
     WHERE contype = 'f' AND conrelid = a.attrelid AND a.attnum = ANY (conkey)) AS foreign,
    EXISTS (SELECT FROM pg_index
     WHERE indrelid = a.attrelid AND indisunique AND indnkeyatts = 1 AND indkey[0] = a.attnum) AS "isUnique"
  FROM pg_attribute a
  WHERE a.attrelid = $1::regclass AND a.attnum > 0 AND NOT a.attisdropped AND a.attgenerated = ''
  ORDER BY a.attnum`;

async function valueIn(
  client: pg.Client,
  table: string,
  { name, type, foreign, isUnique }: Column,
  copied: readonly string[],
): Promise<string> {
  const column = `"${table}"."${name}"`;
  if (foreign.length > 0 && !foreign.some((each) => copied.includes(each))) return column;
  if (isUnique && /^(integer|bigint)$/.test(type)) {
    const { rows } = await client.query<{ most: string }>(
      `SELECT coalesce(max("${name}"), 0)::text AS most FROM ${table}`,
    );
    return `${column} + copy * ${rows[0]?.most}`;
  }
  if (!/^(uuid|uuid\[\]|text|json|jsonb)$/.test(type)) return column;
  const { rows } = await client.query<{ has: boolean }>(
    `SELECT EXISTS (SELECT FROM ${table} WHERE "${name}"::text ~ $1) AS has`,
    [IDENTIFIER],
  );
  if (rows[0]?.has !== true) return column;
  return `regexp_replace(${column}::text, '${IDENTIFIER}', '\\1' || to_hex(copy + (copy > 6)::int) || '\\2', 'g')::${type}`;
}

/** The version, which is 7 in all that there are, becomes the number of the copy: 1 to 6, 8 to 15. */
const IDENTIFIER = '([0-9a-f]{8}-[0-9a-f]{4}-)7([0-9a-f]{3}-[0-9a-f]{4}-[0-9a-f]{12})';
