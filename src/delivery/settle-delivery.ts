import { appendJournal, type Doer } from '../journal/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { revokeMailLink } from '../quote-links/index.ts';
import type { Claimed } from './claim-delivery.ts';
import type { DeliveryDeps } from './delivery-deps.ts';
import { ATTEMPTS_MAX, nextAttempt } from './next-attempt.ts';
import type { Outcome } from './outcome.ts';

/** What an attempt was, besides how it came out. */
export interface Attempt {
  claimed: Claimed;
  channel: string;
  /** Made for it, if it answers anything. */
  linkId?: string | undefined;
  sentTo?: string | undefined;
  messageId?: string | undefined;
  /** The service is being stopped: that is no failure, so it goes on right after the next start. */
  stopped: boolean;
}

/**
 * Writes down what became of an attempt: sent, to be tried again, or given up with the reason.
 * @returns false when the delivery is no longer this worker's; then nothing is written
 */
export function settleDelivery(
  { db, clock, ids }: Pick<DeliveryDeps, 'db' | 'clock' | 'ids'>,
  attempt: Attempt,
  outcome: Outcome,
): Promise<boolean> {
  const now = clock.now();
  return inTx(db, async (tx) => {
    const doer: Doer = { tx, now, newId: () => ids.next() };
    const step = stepAfter(attempt, outcome, now);
    const { id, version } = attempt.claimed;
    const { count } = await tx.deliveryState.updateMany({
      where: { deliveryId: id, state: 'sending', version },
      data: { ...step.data, leaseUntil: null, version: version + 1, changedAt: now },
    });
    if (count === 0) return false;
    if (step.linkIsWorthless && attempt.linkId !== undefined) {
      await revokeMailLink(doer, attempt.linkId);
    }
    await appendJournal(doer, {
      event: step.event,
      subject: { kind: 'delivery', id },
      after: { attempts: attempt.claimed.attempts, ...step.told },
    });
    return true;
  });
}

function stepAfter({ claimed, channel, ...attempt }: Attempt, outcome: Outcome, now: Date) {
  const { sentTo, messageId } = attempt;
  switch (outcome.outcome) {
    case 'sent':
      return {
        event: 'delivery.sent' as const,
        data: {
          state: 'sent',
          reason: null,
          ...(sentTo !== undefined && { sentTo }),
          ...(messageId !== undefined && { messageId }),
          // A mail was marked before its end left; a text is sent once its gateway says so.
          ...(channel === 'text' && { handedOverAt: now }),
        },
        told: {},
        linkIsWorthless: false,
      };
    case 'unsure':
      return {
        event: 'delivery.given_up' as const,
        data: { state: 'dead', reason: outcome.reason },
        told: { mayHaveArrived: true },
        // Whoever got the mail has this link.
        linkIsWorthless: false,
      };
    case 'refused':
      return {
        event: 'delivery.given_up' as const,
        data: {
          state: 'dead',
          reason: outcome.reason,
          answerCode: outcome.answerCode ?? null,
        },
        told: { answerCode: outcome.answerCode ?? null, mayHaveArrived: false },
        linkIsWorthless: true,
      };
    case 'try_again':
      return stepBeforeTheNext({ claimed, channel, ...attempt }, outcome, now);
  }
}

function stepBeforeTheNext(
  { claimed, channel, stopped }: Attempt,
  { reason, answerCode = undefined }: { reason: string; answerCode?: number },
  now: Date,
) {
  const nextAt = stopped ? now : nextAttempt(now, claimed.attempts, Math.random());
  // A text that was taken is sent once however often it is asked for, and its link is in that one.
  const linkIsWorthless = channel === 'mail';
  if (nextAt === undefined) {
    return {
      event: 'delivery.given_up' as const,
      data: {
        state: 'dead',
        reason: `${reason} Tried ${ATTEMPTS_MAX} times.`,
        answerCode: answerCode ?? null,
      },
      told: { answerCode: answerCode ?? null, mayHaveArrived: false },
      linkIsWorthless,
    };
  }
  return {
    event: 'delivery.put_off' as const,
    data: {
      ...{ state: 'waiting', reason, nextAt, linkId: null, handedOverAt: null },
      answerCode: answerCode ?? null,
    },
    told: { answerCode: answerCode ?? null, nextAt },
    linkIsWorthless,
  };
}
