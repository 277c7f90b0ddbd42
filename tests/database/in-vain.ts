import type pg from 'pg';
import type { TestDatabase } from '../harness/test-database.ts';

/** Works in a transaction that is rolled back. */
export async function inVain(
  { owner }: Pick<TestDatabase, 'owner'>,
  work: (client: pg.ClientBase) => Promise<void>,
): Promise<void> {
  const client = await owner.connect();
  try {
    await client.query('BEGIN');
    await work(client);
  } finally {
    await client.query('ROLLBACK');
    client.release();
  }
}
