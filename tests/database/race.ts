import type pg from 'pg';
import { expect } from 'vitest';
import { type Refusal, refusalOf } from './guard-case.ts';
import type { Statement } from './rows.ts';

/**
 * Runs `first` in an open transaction and `second` beside it; sees that the second waits, ends the
 * first, and holds what becomes of the second against `outcome`.
 */
export async function race(
  owner: pg.Pool,
  first: Statement[],
  second: Statement[],
  end: 'commit' | 'rollback',
  outcome: Refusal | undefined,
): Promise<void> {
  const [one, two] = [await owner.connect(), await owner.connect()];
  try {
    await one.query('BEGIN');
    await run(one, first);
    await two.query('BEGIN');
    const process = await two.query<{ pid: number }>('SELECT pg_backend_pid() AS pid');
    const answer = run(two, second).then(() => undefined, refusalOf);
    await untilWaiting(owner, process.rows[0]?.pid);
    await one.query(end);
    expect(await answer).toEqual(outcome);
    await two.query(outcome === undefined ? 'COMMIT' : 'ROLLBACK');
  } finally {
    one.release();
    two.release();
  }
}

export async function run(client: pg.ClientBase, statements: Statement[]): Promise<void> {
  for (const statement of statements) await client.query(statement);
}

// Polls the server's own account of who waits; a second statement that does not wait fails here
// by the time limit of the test.
async function untilWaiting(owner: pg.Pool, pid: number | undefined): Promise<void> {
  for (;;) {
    const seen = await owner.query<{ waits: boolean }>(
      `SELECT wait_event_type = 'Lock' AS waits FROM pg_stat_activity WHERE pid = $1`,
      [pid],
    );
    if (seen.rows[0]?.waits === true) return;
  }
}
