import { once } from 'node:events';
import pg from 'pg';
import type { EmbeddedServer } from '../../src/platform/database/embedded/index.ts';

/** The process that a database server began with, which has all others as its children. */
export async function postmasterOf({ superuserUrl }: EmbeddedServer): Promise<number> {
  const client = new pg.Client({ connectionString: superuserUrl });
  await client.connect();
  try {
    const { rows } = await client.query<{ pid: number }>(
      `SELECT split_part(pg_read_file('postmaster.pid'), E'\\n', 1)::int AS pid`,
    );
    const [row] = rows;
    if (row === undefined) throw new Error('the server has no process');
    return row.pid;
  } finally {
    client.end().catch(() => undefined);
    await once(client, 'end');
  }
}
