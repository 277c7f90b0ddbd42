import type pg from 'pg';
import { appliedNames } from '../platform/database/migrate.ts';
import { orderTables } from './order-tables.ts';

/** A column as the file names it: its type is written as the server writes it. */
export interface Column {
  readonly name: string;
  readonly type: string;
}

/** A table with the columns that are stored in their own right, in their order. */
export interface Table {
  readonly name: string;
  readonly columns: readonly Column[];
  /** Its primary key, which rows are told apart and ordered by. */
  readonly key: readonly Column[];
}

/** What a database of this schema is made of. */
export interface Layout {
  /** Names of the migrations that made it, oldest first. */
  readonly migrations: readonly string[];
  /** Each table after those it names rows of. */
  readonly tables: readonly Table[];
  /** Names of the sequences. */
  readonly sequences: readonly string[];
}

/**
 * Reads from the catalog what there is to take along, so that a table added later is not forgotten.
 * @throws Error when there is no schema of ours, or a table that a file cannot carry
 */
export async function readLayout(client: pg.ClientBase): Promise<Layout> {
  const migrations = await appliedNames(client);
  if (migrations.length === 0) throw new Error('The database has no company schema yet.');
  const { rows: columns } = await client.query<ColumnRow>(COLUMNS);
  const { rows: references } = await client.query<{ from: string; to: string }>(REFERENCES);
  const { rows: sequences } = await client.query<{ name: string }>(SEQUENCES);
  const names = [...new Set(columns.map(({ table }) => table))];
  return {
    migrations,
    tables: orderTables(names, references).map((name) => tableOf(name, columns)),
    sequences: sequences.map(({ name }) => name),
  };
}

interface ColumnRow extends Column {
  table: string;
  /** An ordinary table; a view of any kind holds no rows of its own. */
  isPlain: boolean;
  isGenerated: boolean;
  /** From 1; null outside the primary key. */
  keyPlace: number | null;
}

function tableOf(name: string, all: readonly ColumnRow[]): Table {
  const own = all.filter(({ table }) => table === name);
  const key = own
    .filter(({ keyPlace }) => keyPlace !== null)
    .sort((a, b) => Number(a.keyPlace) - Number(b.keyPlace));
  if (key.length === 0 || own.some(({ isPlain }) => !isPlain)) {
    throw new Error(`Table ${name} has no primary key or is not an ordinary table.`);
  }
  // What the database works out from other columns comes about again by itself.
  const stored = own.filter(({ isGenerated }) => !isGenerated);
  return { name, columns: stored.map(columnOf), key: key.map(columnOf) };
}

function columnOf({ name, type }: Column): Column {
  return { name, type };
}

// Prisma's own record of the migrations is made by them, so it is not carried but compared.
const COLUMNS = `
  SELECT c.relname AS table, a.attname AS name, format_type(a.atttypid, a.atttypmod) AS type,
    c.relkind = 'r' AS "isPlain", a.attgenerated <> '' AS "isGenerated",
    array_position(i.indkey::int2[], a.attnum) + 1 AS "keyPlace"
  FROM pg_class c
  JOIN pg_attribute a ON a.attrelid = c.oid AND a.attnum > 0 AND NOT a.attisdropped
  LEFT JOIN pg_index i ON i.indrelid = c.oid AND i.indisprimary
  WHERE c.relnamespace = 'public'::regnamespace AND c.relkind IN ('r', 'p', 'f', 'm')
    AND c.relname <> '_prisma_migrations'
  ORDER BY c.relname COLLATE "C", a.attnum`;

const REFERENCES = `
  SELECT DISTINCT f.relname AS from, t.relname AS to
  FROM pg_constraint k JOIN pg_class f ON f.oid = k.conrelid JOIN pg_class t ON t.oid = k.confrelid
  WHERE k.contype = 'f' AND k.connamespace = 'public'::regnamespace`;

const SEQUENCES = `
  SELECT relname AS name FROM pg_class
  WHERE relnamespace = 'public'::regnamespace AND relkind = 'S' ORDER BY relname COLLATE "C"`;
