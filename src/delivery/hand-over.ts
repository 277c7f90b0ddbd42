import { appendJournal } from '../journal/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import type { Claimed } from './claim-delivery.ts';
import type { DeliveryDeps } from './delivery-deps.ts';

/** As long as a server is given for its last answer, and a little more. */
const ANSWER_LEASE_MS = 12 * 60_000;

/**
 * Writes down that a mail is handed over, before its end leaves: from here on no machine sends it
 * again by itself.
 * @returns false when the delivery is no longer this worker's
 */
export function handOver(
  { db, clock, ids }: Pick<DeliveryDeps, 'db' | 'clock' | 'ids'>,
  { id, attempts, version }: Claimed,
  sent: { sentTo: string; messageId: string },
): Promise<boolean> {
  const now = clock.now();
  return inTx(db, async (tx) => {
    const { count } = await tx.deliveryState.updateMany({
      where: { deliveryId: id, state: 'sending', version, leaseUntil: { gt: now } },
      data: {
        ...{ handedOverAt: now, ...sent },
        leaseUntil: new Date(now.getTime() + ANSWER_LEASE_MS),
        ...{ version: version + 1, changedAt: now },
      },
    });
    if (count === 0) return false;
    await appendJournal(
      { tx, now, newId: () => ids.next() },
      {
        event: 'delivery.handed_over',
        subject: { kind: 'delivery', id },
        after: { attempts },
      },
    );
    return true;
  });
}
