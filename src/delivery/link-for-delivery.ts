import type { Doer } from '../journal/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { type MailLink, makeMailLink, type NoMailLink } from '../quote-links/index.ts';
import type { Claimed } from './claim-delivery.ts';
import type { DeliveryDeps } from './delivery-deps.ts';
import type { DeliveryJob } from './delivery-job.ts';

/** What an attempt goes on with: its link, and the version that its row has by then. */
export interface Linked {
  claimed: Claimed;
  link: MailLink | NoLink;
}

/** Why an attempt has no link: also where its paper is no quote, or nobody can reach us. */
export type NoLink = NoMailLink | 'no_quote' | 'no_public_address';

/**
 * Makes the link that this attempt's mail or text carries, where it is about a quote that waits for
 * its reader's answer and we can be reached, and notes it with the attempt: if nothing arrives, it is
 * made worthless again.
 * @returns undefined when the delivery is no longer this worker's
 */
export function linkForDelivery(
  { db, clock, ids, publicUrl }: Pick<DeliveryDeps, 'db' | 'clock' | 'ids' | 'publicUrl'>,
  claimed: Claimed,
  { id, recipient, customer, paper: { revision } }: DeliveryJob,
): Promise<Linked | undefined> {
  if (revision === null) return Promise.resolve({ claimed, link: 'no_quote' });
  if (publicUrl === undefined) return Promise.resolve({ claimed, link: 'no_public_address' });
  const now = clock.now();
  return inTx(db, async (tx) => {
    const doer: Doer = { tx, now, newId: () => ids.next() };
    const link = await makeMailLink(doer, {
      quoteId: revision.quoteId,
      revision: revision.number,
      holder: recipient === 'payer' ? 'payer' : 'approver',
      holderId: customer.id,
      deliveryId: id,
    });
    if (typeof link === 'string') return { claimed, link };
    const { version } = claimed;
    const { count } = await tx.deliveryState.updateMany({
      where: { deliveryId: id, state: 'sending', version },
      data: { linkId: link.id, version: version + 1, changedAt: now },
    });
    // The link goes with the transaction when the delivery is somebody else's by now.
    if (count === 0) throw new LeaseLost();
    return { claimed: { ...claimed, version: version + 1 }, link };
  }).catch((error: unknown) => {
    if (error instanceof LeaseLost) return undefined;
    throw error;
  });
}

class LeaseLost extends Error {}
