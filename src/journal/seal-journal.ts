import type pg from 'pg';
import { type EntryTexts, entryTextsSql, genesisHash, sealHash } from './seal-hash.ts';

/**
 * Seals what is committed and waiting: gives each entry its position and its hash. Only one sealer
 * works at a time (advisory lock); another one returns at once.
 *
 * It takes entries from the queue, never by `id > last`: identifiers are made before the commit, so
 * a later commit may carry an earlier one.
 * @param batchMax how many entries one transaction seals at the most
 * @returns how many were sealed
 */
export async function sealJournal(pool: pg.Pool, batchMax = 1_000): Promise<number> {
  const client = await pool.connect();
  try {
    await client.query('BEGIN');
    const sealed = await sealBatch(client, batchMax);
    await client.query('COMMIT');
    return sealed;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}

async function sealBatch(client: pg.ClientBase, batchMax: number): Promise<number> {
  const lock = await client.query<{ held: boolean }>(
    'SELECT pg_try_advisory_xact_lock($1) AS held',
    [SEALER_LOCK],
  );
  if (lock.rows[0]?.held !== true) return 0;
  const waiting = await client.query<EntryTexts>(TAKE, [batchMax]);
  if (waiting.rows.length === 0) return 0;
  let { position, hash } = await lastSeal(client);
  const seals = waiting.rows.map((entry) => {
    position += 1n;
    hash = sealHash(hash, position, entry);
    return { position: String(position), id: entry.id, hash };
  });
  await client.query(SEAL, [
    seals.map((seal) => seal.position),
    seals.map((seal) => seal.id),
    seals.map((seal) => seal.hash),
  ]);
  return seals.length;
}

async function lastSeal(client: pg.ClientBase): Promise<{ position: bigint; hash: string }> {
  const last = await client.query<{ position: string; hash: string }>(
    // Qualified, or it would sort by the text in the select list, where 9 comes after 10.
    'SELECT position::text, hash FROM journal_seal s ORDER BY s.position DESC LIMIT 1',
  );
  const row = last.rows[0];
  return row
    ? { position: BigInt(row.position), hash: row.hash }
    : { position: 0n, hash: genesisHash };
}

// Any constant will do, as long as every Evenhand process uses the same one.
const SEALER_LOCK = 7_205_312;

// An entry that is sealed already may have been queued again by hand; it only leaves the queue.
const TAKE = `
  WITH taken AS (
    DELETE FROM journal_unsealed WHERE entry_id IN (
      SELECT entry_id FROM journal_unsealed ORDER BY entry_id LIMIT $1)
    RETURNING entry_id)
  SELECT ${entryTextsSql} FROM taken JOIN journal_entry e ON e.id = taken.entry_id
  WHERE NOT EXISTS (SELECT 1 FROM journal_seal s WHERE s.entry_id = e.id)
  ORDER BY e.id`;

const SEAL = `
  INSERT INTO journal_seal (position, entry_id, hash)
  SELECT * FROM unnest($1::bigint[], $2::uuid[], $3::text[]) ORDER BY 1`;
