import type { Sql } from '../platform/database/database.ts';

/** How far the seals are behind the entries. */
export interface SealLag {
  unsealed: number;
  /** Of the oldest entry without a seal; 0 when none waits. */
  oldestSeconds: number;
}

/** Counts what waits for its seal, up to a bound: beyond it the figure says only that it is bad. */
export async function sealLag(sql: Sql, now: Date): Promise<SealLag> {
  const { rows } = await sql.query<{ unsealed: number; oldest: Date | null }>(LAG, [COUNTED_MAX]);
  const [row] = rows;
  const oldest = row?.oldest ?? now;
  return {
    unsealed: row?.unsealed ?? 0,
    oldestSeconds: Math.max(0, (now.getTime() - oldest.getTime()) / 1_000),
  };
}

const COUNTED_MAX = 100_000;

// Identifiers begin with their time, so the first of them is as old as any, to a moment.
const LAG = `
  SELECT (SELECT count(*)::int FROM (SELECT FROM journal_unsealed LIMIT $1) waiting) AS unsealed,
    (SELECT e.at FROM journal_unsealed u JOIN journal_entry e ON e.id = u.entry_id
      ORDER BY u.entry_id LIMIT 1) AS oldest`;
