import pg from 'pg';
import { beginCopy, type Copy } from './begin-copy.ts';
import { type CheckedFile, checkCompanyFile } from './check-company-file.ts';
import { deferCircles } from './defer-circles.ts';
import { openSession } from './open-session.ts';
import { type Layout, readLayout } from './read-layout.ts';
import { readParts } from './read-parts.ts';
import { requireEmpty } from './require-empty.ts';
import { requireFit } from './require-fit.ts';

/** Somebody who holds a table this long is at work in the database. */
const LOCK_PATIENCE_MS = 5_000;

/**
 * Puts a company from its file into an empty, migrated database: wholly, in one transaction, or not
 * at all. The rows have passed the guards once, so the triggers rest meanwhile; keys, references,
 * checks and exclusions are looked at again.
 * @param url a login that owns the schema
 * @returns what the file says of itself
 * @throws Error in plain words when the file is broken or of another schema, or the database is in use
 */
export async function restoreCompany(url: string, file: string): Promise<CheckedFile> {
  const checked = await checkCompanyFile(file);
  const client = await openSession(url);
  try {
    await client.query('BEGIN');
    await load(client, file, checked);
    await client.query('COMMIT');
    // Without it the first requests would run by plans made for empty tables.
    await client.query('ANALYZE');
    return checked;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw inPlainWords(error);
  } finally {
    await client.end();
  }
}

async function load(client: pg.Client, file: string, checked: CheckedFile): Promise<void> {
  const layout = await readLayout(client);
  requireFit(checked, layout);
  await lockAll(client, layout);
  await eachTable(client, layout, 'DISABLE TRIGGER USER');
  await requireEmpty(client, layout);
  const putBack = await deferCircles(client, checked.tables);
  await loadRows(client, file, checked);
  await client.query('SET CONSTRAINTS ALL IMMEDIATE');
  await putBack();
  await eachTable(client, layout, 'ENABLE TRIGGER USER');
  for (const [name, next] of Object.entries(checked.head.nextNumbers)) {
    // Unlike setval, this is undone with the transaction.
    await client.query(`ALTER SEQUENCE ${client.escapeIdentifier(name)} RESTART WITH ${next}`);
  }
}

async function lockAll(client: pg.Client, { tables }: Layout): Promise<void> {
  await client.query(`SET LOCAL lock_timeout = ${LOCK_PATIENCE_MS}`);
  const names = tables.map(({ name }) => client.escapeIdentifier(name));
  await client.query(`LOCK TABLE ${names.join(', ')} IN ACCESS EXCLUSIVE MODE`);
}

async function eachTable(client: pg.Client, { tables }: Layout, action: string): Promise<void> {
  for (const { name } of tables) {
    await client.query(`ALTER TABLE ${client.escapeIdentifier(name)} ${action}`);
  }
}

async function loadRows(client: pg.Client, file: string, { end }: CheckedFile): Promise<void> {
  let copy: Copy | undefined;
  try {
    for await (const part of readParts(file)) {
      if (part.kind === 'rows') await copy?.write(part.rows);
      if (part.kind === 'table' || part.kind === 'end') await copy?.finish();
      if (part.kind === 'table') copy = beginCopy(client, part.table);
      if (part.kind === 'end' && part.end.sha256 !== end.sha256) {
        throw new Error('The file was changed while it was read.');
      }
    }
  } catch (error) {
    await copy?.abort();
    throw error;
  }
}

function inPlainWords(error: unknown): unknown {
  const code = error instanceof pg.DatabaseError ? error.code : undefined;
  const words = code === undefined ? undefined : WORDS[code];
  return words === undefined ? error : new Error(words, { cause: error });
}

const WORDS: Readonly<Record<string, string>> = {
  '42501': 'This login may not restore: it does not own the tables. Set DATABASE_OWNER_URL.',
  '55P03': 'Somebody is at work in the database. Stop the service on it first.',
};
