import pg from 'pg';
import { poolConfig } from './database.ts';

/**
 * A few connections apart from those that do the work, for asking how the database is: what waits
 * behind a crowd is no answer to the question whether there is one. Each question is short.
 */
export function openWatch({ url, role, withinMs = ANSWER_MS_MAX }: WatchOptions): pg.Pool {
  const pool = new pg.Pool({
    ...poolConfig({ url, role, poolMax: 2 }),
    connectionTimeoutMillis: withinMs,
    query_timeout: withinMs,
    // A watch must not keep a process from its end.
    allowExitOnIdle: true,
  });
  // A connection that is lost is opened again with the next question, which tells.
  pool.on('connect', (client) => client.on('error', () => undefined));
  pool.on('error', () => undefined);
  return pool;
}

export interface WatchOptions {
  url: string;
  role: string;
  /** How long a connection, and then an answer, is waited for. */
  withinMs?: number;
}

const ANSWER_MS_MAX = 1_000;
