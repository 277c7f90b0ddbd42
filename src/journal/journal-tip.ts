import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import type { journalTipSchema } from './contract.ts';
import { genesisHash } from './seal-hash.ts';

/** The end of the sealed journal, and how much waits for its seal. */
export async function journalTip(sql: Sql): Promise<z.input<typeof journalTipSchema>> {
  const found = await sql.query<z.input<typeof journalTipSchema>>(TIP);
  return found.rows[0] ?? { position: 0, hash: genesisHash, unsealed: 0 };
}

const TIP = `
  SELECT coalesce(s.position, 0)::float8 AS position, coalesce(s.hash, '${genesisHash}') AS hash,
    (SELECT count(*)::int FROM journal_unsealed) AS unsealed
  FROM (SELECT 1) one
  LEFT JOIN LATERAL (
    SELECT position, hash FROM journal_seal ORDER BY position DESC LIMIT 1) s ON true`;
