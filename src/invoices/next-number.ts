import { sqlOf, type Tx } from '../platform/database/database.ts';

/**
 * The next number without a gap, held until the transaction ends: whoever else issues waits, and
 * takes the same number when this one is rolled back. The guard in the database takes the same
 * lock, so it is the last of all locks that an issue takes.
 */
export async function nextNumber(tx: Tx, table: 'invoice_issue' | 'credit_memo'): Promise<number> {
  const sql = sqlOf(tx);
  await sql.query(`SELECT pg_advisory_xact_lock(hashtextextended($1, 0))`, [`${table} number`]);
  // A statement of its own: one that waited for the lock would not see what was issued meanwhile.
  const { rows } = await sql.query<{ next: number }>(NEXT[table]);
  const [row] = rows;
  if (row === undefined) throw new Error('an aggregate has one row');
  return row.next;
}

const NEXT = {
  invoice_issue: 'SELECT coalesce(max(number), 0) + 1 AS next FROM invoice_issue',
  credit_memo: 'SELECT coalesce(max(number), 0) + 1 AS next FROM credit_memo',
} as const;
