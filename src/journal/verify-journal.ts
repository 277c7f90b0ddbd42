import type pg from 'pg';
import { type EntryTexts, entryTextsSql, genesisHash, sealHash } from './seal-hash.ts';

/** A place in the sealed journal: the hash there vouches for everything up to it. */
export interface Tip {
  position: bigint;
  hash: string;
}

/** What was found. The journal is whole when `faults` is empty. */
export interface JournalReport {
  sealed: bigint;
  tip: Tip;
  /** Committed but not yet under a seal; they can still be changed without a trace. */
  unsealed: number;
  faults: string[];
}

/**
 * Recomputes every seal from the entries as they stand.
 * @param outside a tip kept outside the database: without it, somebody who can rewrite everything
 *   can also rewrite the seals
 */
export async function verifyJournal(pool: pg.Pool, outside?: Tip): Promise<JournalReport> {
  const client = await pool.connect();
  try {
    await client.query('BEGIN ISOLATION LEVEL REPEATABLE READ READ ONLY');
    await client.query('SET LOCAL statement_timeout = 0');
    const report = await walk(client, outside);
    await client.query('COMMIT');
    return report;
  } catch (error) {
    await client.query('ROLLBACK').catch(() => undefined);
    throw error;
  } finally {
    client.release();
  }
}

async function walk(client: pg.ClientBase, outside: Tip | undefined): Promise<JournalReport> {
  const faults: string[] = [];
  let tip: Tip = { position: 0n, hash: genesisHash };
  let outsideSeen = outside === undefined || outside.position === 0n;
  for await (const row of sealedEntries(client)) {
    const expected = tip.position + 1n;
    if (BigInt(row.position) !== expected) {
      faults.push(`position ${expected} is missing`);
    }
    const position = BigInt(row.position);
    if (row.id === null) faults.push(`position ${position}: its entry is gone`);
    else if (sealHash(tip.hash, position, row) !== row.hash) {
      faults.push(`position ${position}: the entry is not what was sealed`);
    }
    tip = { position, hash: row.hash };
    if (outside !== undefined && outside.position === position) {
      outsideSeen = true;
      if (outside.hash !== row.hash) {
        faults.push(`position ${position}: the seal is not the one kept outside`);
      }
    }
  }
  if (!outsideSeen) faults.push(`the journal ends at ${tip.position}, before the tip kept outside`);
  const unsealed = await countUnsealed(client);
  if (unsealed.unqueued > 0) {
    faults.push(`${unsealed.unqueued} entries are neither sealed nor waiting for it`);
  }
  return { sealed: tip.position, tip, unsealed: unsealed.all, faults };
}

interface SealedEntry extends EntryTexts {
  position: string;
  hash: string;
}

// Read in slices by position, so that memory stays flat however long the journal is.
async function* sealedEntries(client: pg.ClientBase): AsyncGenerator<SealedEntry> {
  let after = '0';
  for (;;) {
    const slice = await client.query<SealedEntry>(SLICE, [after]);
    yield* slice.rows;
    const last = slice.rows.at(-1);
    if (last === undefined) return;
    after = last.position;
  }
}

async function countUnsealed(client: pg.ClientBase): Promise<{ all: number; unqueued: number }> {
  const counted = await client.query<{ all: number; unqueued: number }>(UNSEALED);
  return counted.rows[0] ?? { all: 0, unqueued: 0 };
}

const SLICE = `
  SELECT s.position::text AS position, s.hash, ${entryTextsSql}
  FROM journal_seal s LEFT JOIN journal_entry e ON e.id = s.entry_id
  WHERE s.position > $1::bigint ORDER BY s.position LIMIT 5000`;

const UNSEALED = `
  SELECT count(*)::int AS all, (count(*) FILTER (WHERE u.entry_id IS NULL))::int AS unqueued
  FROM journal_entry e
  LEFT JOIN journal_seal s ON s.entry_id = e.id
  LEFT JOIN journal_unsealed u ON u.entry_id = e.id
  WHERE s.entry_id IS NULL`;
