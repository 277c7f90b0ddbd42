import { open, rename, rm, stat } from 'node:fs/promises';
import type pg from 'pg';
import { to as copyTo } from 'pg-copy-streams';
import { journalTip } from '../journal/index.ts';
import { readCopyLine } from './copy-text.ts';
import { createFileWriter, type FileWriter } from './create-file-writer.ts';
import { FORMAT, FORMAT_VERSION, type HeadLine, lineOf } from './file-lines.ts';
import { INSIDE, OUTSIDE } from './inside-and-outside.ts';
import { openSession } from './open-session.ts';
import { type Column, type Layout, readLayout, type Table } from './read-layout.ts';
import { wholeLines } from './whole-lines.ts';

/** What was written. */
export interface Exported {
  rows: Readonly<Record<string, number>>;
  sha256: string;
  journalTip: HeadLine['journalTip'];
}

/**
 * Writes everything the database holds of the company into a new file, as it stands at one moment;
 * the service may go on meanwhile. The same rows make the same bytes. Only its owner may read the
 * file, and until it is whole it is called `.part`.
 * @param url a login that may read every table and sequence
 * @throws Error when the file is there already, or the database cannot be read
 */
export async function exportCompany(url: string, file: string): Promise<Exported> {
  await refuseExisting(file);
  const part = `${file}.part`;
  const handle = await open(part, 'w', 0o600);
  try {
    const exported = await fromSnapshot(url, createFileWriter(handle));
    await handle.sync();
    await handle.close();
    await refuseExisting(file);
    await rename(part, file);
    return exported;
  } catch (error) {
    await handle.close().catch(() => undefined);
    await rm(part, { force: true });
    throw error;
  }
}

async function refuseExisting(file: string): Promise<void> {
  const found = await stat(file).catch(() => undefined);
  if (found !== undefined) throw new Error(`${file} is there already. Name another file.`);
}

async function fromSnapshot(url: string, out: FileWriter): Promise<Exported> {
  const client = await openSession(url);
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    const exported = await writeAll(client, out);
    await client.query('COMMIT');
    return exported;
  } finally {
    await client.end();
  }
}

async function writeAll(client: pg.Client, out: FileWriter): Promise<Exported> {
  const layout = await readLayout(client);
  const head = await headOf(client, layout);
  await out.write(lineOf(head));
  const rows: Record<string, number> = {};
  for (const table of layout.tables) {
    await out.write(lineOf({ table: table.name, columns: [...table.columns] }));
    rows[table.name] = await writeRows(client, table, out);
  }
  const sha256 = out.digest();
  await out.write(lineOf({ end: true, rows, sha256 }));
  await out.flush();
  return { rows, sha256, journalTip: head.journalTip };
}

async function headOf(client: pg.Client, layout: Layout): Promise<HeadLine> {
  const { position, hash } = await journalTip(client);
  return {
    format: FORMAT,
    formatVersion: FORMAT_VERSION,
    schemaVersion: layout.migrations.at(-1) ?? '',
    migrations: [...layout.migrations],
    nextNumbers: await nextNumbers(client, layout.sequences),
    journalTip: { position: String(position), hash },
    inside: [...INSIDE],
    outside: [...OUTSIDE],
  };
}

// Sequences stand outside of snapshots: read after the snapshot was taken, each is past every
// number that is in it.
async function nextNumbers(
  client: pg.Client,
  sequences: readonly string[],
): Promise<Record<string, string>> {
  const next: Record<string, string> = {};
  for (const name of sequences) {
    const { rows } = await client.query<{ next: string }>(
      `SELECT (last_value + CASE WHEN is_called THEN seqincrement ELSE 0 END)::text AS next
       FROM ${client.escapeIdentifier(name)}, pg_sequence WHERE seqrelid = $1::regclass`,
      [client.escapeIdentifier(name)],
    );
    next[name] = rows[0]?.next ?? '';
  }
  return next;
}

async function writeRows(client: pg.Client, table: Table, out: FileWriter): Promise<number> {
  const chunks = client.query(copyTo(`COPY (${rowsOf(client, table)}) TO STDOUT`));
  let count = 0;
  for await (const text of wholeLines(chunks)) {
    const lines = text.slice(0, -1).split('\n');
    count += lines.length;
    await out.write(lines.map((line) => `${JSON.stringify(readCopyLine(line))}\n`).join(''));
  }
  return count;
}

function rowsOf(client: pg.Client, { name, columns, key }: Table): string {
  const quoted = (column: Column) => client.escapeIdentifier(column.name);
  return `SELECT ${columns.map(quoted).join(', ')} FROM ${client.escapeIdentifier(name)}
    ORDER BY ${key.map((column) => quoted(column) + orderOf(column)).join(', ')}`;
}

/** Texts in the order of their bytes: other orders differ from server to server. */
function orderOf({ type }: Column): string {
  return /^(text|character)/.test(type) ? ' COLLATE "C"' : '';
}
