import { setTimeout as wait } from 'node:timers/promises';
import type { Database, Isolation, Tx } from './database.ts';
import { violationOf } from './violation.ts';

export interface InTxOptions {
  isolation?: Isolation;
  /** How often the work may be run again after a conflict. */
  retriesMax?: number;
  /** Called before each further attempt, for counting. */
  onRetry?: (error: unknown, attempt: number) => void;
}

/**
 * Runs `work` in one transaction and commits it. When the database gives it up for a conflict with
 * another transaction (serialization failure or deadlock), the work is run again from the start,
 * so it must have no effect outside the transaction.
 * @throws the last error when it was no conflict, or the retries are used up
 */
export async function inTx<T>(
  db: Pick<Database, 'transact'>,
  work: (tx: Tx) => Promise<T>,
  { isolation = 'ReadCommitted', retriesMax = 5, onRetry }: InTxOptions = {},
): Promise<T> {
  for (let attempt = 1; ; attempt += 1) {
    try {
      return await db.transact(work, isolation);
    } catch (error) {
      if (attempt > retriesMax || !isConflict(error)) throw error;
      onRetry?.(error, attempt);
      await wait(backoffMs(attempt));
    }
  }
}

/**
 * True for a serialization failure (40001) or a deadlock (40P01), in either of the shapes they
 * come: as the typed client's P2034, or at COMMIT as a bare adapter error that carries only the
 * SQLSTATE. Looking for P2034 alone misses most of them.
 */
export function isConflict(error: unknown): boolean {
  const sqlState = violationOf(error)?.sqlState;
  if (sqlState === '40001' || sqlState === '40P01') return true;
  return typeof error === 'object' && error !== null && 'code' in error && error.code === 'P2034';
}

// Full jitter keeps the losers of one conflict from meeting again.
function backoffMs(attempt: number): number {
  return 10 + Math.random() * Math.min(190, 10 * 2 ** attempt);
}
