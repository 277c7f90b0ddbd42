import type pg from 'pg';

/** A statement with its parameters. */
export interface Sent {
  text: string;
  values: readonly unknown[];
}

/**
 * How many pages of 8 kB the database touches for some statements, in memory or not (EXPLAIN
 * (ANALYZE, BUFFERS)). Each is run once before, so that caches of the session are filled.
 */
export async function buffersOf(client: pg.Client, statements: readonly Sent[]): Promise<number> {
  let buffers = 0;
  for (const { text, values } of statements) {
    const explain = `EXPLAIN (ANALYZE, BUFFERS, FORMAT JSON) ${text}`;
    await client.query(explain, [...values]);
    const told = await client.query(explain, [...values]);
    const [{ Plan: plan }] = told.rows[0]['QUERY PLAN'];
    buffers += plan['Shared Hit Blocks'] + plan['Shared Read Blocks'];
  }
  return buffers;
}
