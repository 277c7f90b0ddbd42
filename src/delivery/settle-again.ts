import { setTimeout as wait } from 'node:timers/promises';
import type { DeliveryDeps } from './delivery-deps.ts';
import type { Outcome } from './outcome.ts';
import { type Attempt, settleDelivery } from './settle-delivery.ts';

const FIRST_WAIT_MS = 100;
const WAIT_MAX_MS = 10_000;

/**
 * Writes down what became of an attempt, again and again while the database is away: a server's yes
 * that nobody wrote down would end as a mail that may have arrived.
 * @param signal aborted well before the lease ends, after which another worker judges without us
 * @returns false when the delivery is no longer this worker's
 * @throws the last error when it could not be written until then
 */
export async function settleAgain(
  deps: DeliveryDeps,
  attempt: Attempt,
  outcome: Outcome,
  signal: AbortSignal,
): Promise<boolean> {
  for (let waitMs = FIRST_WAIT_MS; ; waitMs = Math.min(2 * waitMs, WAIT_MAX_MS)) {
    try {
      return await settleDelivery(deps, attempt, outcome);
    } catch (error) {
      if (signal.aborted) throw error;
      const { id } = attempt.claimed;
      deps.log.warn(
        { err: error, deliveryId: id },
        'an outcome could not be written; trying again',
      );
      // Whoever ends the attempt ends the wait; then it is tried once more.
      await wait(waitMs, undefined, { signal }).catch(() => undefined);
    }
  }
}
