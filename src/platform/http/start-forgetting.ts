import type { Clock } from '../clock.ts';
import type { Sql } from '../database/database.ts';
import { forgetOldReplies } from './idempotency.ts';

const HOUR_MS = 3_600_000;

/**
 * Throws away, now and every hour, the answers that are too old to be repeated.
 * @param onFailure told why a turn failed; the next one tries again
 * @returns a function that ends it
 */
export async function startForgetting(
  sql: Sql,
  clock: Clock,
  onFailure: (error: unknown) => void,
): Promise<() => Promise<void>> {
  let running: Promise<unknown> = Promise.resolve();
  const turn = () => {
    running = forgetOldReplies(sql, clock.now()).catch(onFailure);
  };
  turn();
  await running;
  const timer = setInterval(turn, HOUR_MS);
  return async () => {
    clearInterval(timer);
    await running;
  };
}
