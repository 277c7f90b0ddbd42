import { appendJournal } from '../journal/index.ts';
import { sqlOf, type Tx } from '../platform/database/database.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { revokeMailLink } from '../quote-links/index.ts';
import type { DeliveryDeps } from './delivery-deps.ts';
import { markText, TEXT_MAY_HAVE_ARRIVED } from './mark-text.ts';
import { ATTEMPTS_MAX } from './next-attempt.ts';

/**
 * Finds what a worker left lying that is gone: its lease is over. A mail that was not handed over
 * cannot have arrived and waits again; one that was may have, so only a person sends it again. A text
 * waits again, for its gateway sends one for each key; one that had its link may have arrived.
 * @returns how many there were
 */
export async function recoverLost({
  db,
  clock,
  ids,
}: Pick<DeliveryDeps, 'db' | 'clock' | 'ids'>): Promise<number> {
  const now = clock.now();
  return inTx(db, async (tx) => {
    const { rows } = await sqlOf(tx).query<Lost>(LOST, [now]);
    for (const lost of rows) await recover({ tx, now, newId: () => ids.next() }, lost);
    return rows.length;
  });
}

interface Lost {
  id: string;
  channel: string;
  attempts: number;
  version: number;
  handedOver: boolean;
  linkId: string | null;
  sentTo: string | null;
  /** On file now. */
  phone: string;
}

interface Recovering {
  tx: Tx;
  now: Date;
  newId(): string;
}

async function recover(doer: Recovering, lost: Lost): Promise<void> {
  if (lost.handedOver) return giveUp(doer, lost, stoppedInTheMiddle(lost));
  const { id, channel, attempts, linkId } = lost;
  if (linkId !== null && channel === 'mail') await revokeMailLink(doer, linkId);
  // A text may have been taken as soon as it had its link, and then that goes on opening.
  const sentTo = linkId !== null && channel === 'text' ? lost.phone || null : lost.sentTo;
  if (attempts >= ATTEMPTS_MAX) {
    const reason = 'The program broke off each time it was about to send it.';
    if (channel !== 'text' || sentTo === null) return giveUp(doer, lost, reason);
    await markText(doer.tx, lost, doer.now);
    const given = { ...lost, handedOver: true, sentTo };
    return giveUp(doer, given, `${reason} ${TEXT_MAY_HAVE_ARRIVED}`);
  }
  await doer.tx.deliveryState.update({
    where: { deliveryId: id },
    data: {
      ...{ state: 'waiting', nextAt: doer.now, leaseUntil: null, linkId: null },
      ...{ reason: 'The program broke off before it was sent.', sentTo },
      ...{ version: { increment: 1 }, changedAt: doer.now },
    },
  });
  await appendJournal(doer, {
    event: 'delivery.put_off',
    subject: { kind: 'delivery', id },
    after: { attempts, nextAt: doer.now },
  });
}

/** What the server made of it nobody heard: it is not said to have broken off. */
function stoppedInTheMiddle({ channel }: Lost): string {
  const stopped = 'The program stopped while it was sending this, before it heard an answer';
  if (channel === 'text') return `${stopped}. ${TEXT_MAY_HAVE_ARRIVED}`;
  return `${stopped}: it may have arrived. Ask, then send it again.`;
}

async function giveUp(
  doer: Recovering,
  { id, attempts, handedOver, sentTo }: Lost,
  reason: string,
): Promise<void> {
  await doer.tx.deliveryState.update({
    where: { deliveryId: id },
    data: {
      ...{ state: 'dead', leaseUntil: null, reason, sentTo },
      ...{ version: { increment: 1 }, changedAt: doer.now },
    },
  });
  await appendJournal(doer, {
    event: 'delivery.given_up',
    subject: { kind: 'delivery', id },
    after: { attempts, mayHaveArrived: handedOver },
  });
}

// At most so many at once; the next look finds the others.
const LOST = `
  SELECT s.delivery_id AS id, d.channel, s.attempts, s.version, s.link_id AS "linkId",
    s.handed_over_at IS NOT NULL AS "handedOver", s.sent_to AS "sentTo", c.phone
  FROM delivery_state s JOIN delivery d ON d.id = s.delivery_id
    JOIN customer c ON c.id = d.customer_id
  WHERE s.state = 'sending' AND s.lease_until <= $1
  ORDER BY s.lease_until LIMIT 20 FOR UPDATE OF s SKIP LOCKED`;
