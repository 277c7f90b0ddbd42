import { appendJournal, type Doer } from '../journal/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { inTx } from '../platform/database/in-tx.ts';
import { revokeMailLink } from '../quote-links/index.ts';
import type { Claimed } from './claim-delivery.ts';
import type { DeliveryDeps } from './delivery-deps.ts';
import { markText, mayHaveGoneTo, TEXT_MAY_HAVE_ARRIVED } from './mark-text.ts';
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
    const { id, version } = attempt.claimed;
    const isText = attempt.channel === 'text';
    const step = stepAfter(attempt, outcome, {
      now,
      earlierMayHave: isText && (await mayHaveGoneTo(tx, id)) !== null,
    });
    if (step.marksFirst && !(await markText(tx, attempt.claimed, now))) return false;
    const known = step.marksFirst ? version + 1 : version;
    const { count } = await tx.deliveryState.updateMany({
      where: { deliveryId: id, state: 'sending', version: known },
      data: { ...step.data, leaseUntil: null, version: known + 1, changedAt: now },
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

interface Step {
  event: 'delivery.sent' | 'delivery.given_up' | 'delivery.put_off';
  data: Prisma.DeliveryStateUncheckedUpdateManyInput;
  told: { answerCode?: number | null; nextAt?: Date; mayHaveArrived?: boolean };
  /** Nobody got the link of this attempt. */
  linkIsWorthless: boolean;
  /** A text is given up on that may have arrived: its row says when it may have left. */
  marksFirst?: boolean;
}

interface Known {
  now: Date;
  /** A try before this one, at the same text, may have arrived. */
  earlierMayHave: boolean;
}

function stepAfter(attempt: Attempt, outcome: Outcome, known: Known): Step {
  switch (outcome.outcome) {
    case 'sent':
      return sent(attempt, known.now);
    case 'unsure':
      return {
        event: 'delivery.given_up',
        data: { state: 'dead', reason: outcome.reason },
        told: { mayHaveArrived: true },
        // Whoever got the mail has this link.
        linkIsWorthless: false,
      };
    case 'refused':
      if (known.earlierMayHave) {
        return { ...givenUpUnsure(attempt, outcome.reason), linkIsWorthless: true };
      }
      return { ...givenUp(outcome.reason, outcome.answerCode), linkIsWorthless: true };
    case 'try_again':
    case 'ask_again':
      return stepBeforeTheNext(attempt, outcome, known);
  }
}

function sent({ channel, sentTo, messageId }: Attempt, now: Date): Step {
  return {
    event: 'delivery.sent',
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
}

function stepBeforeTheNext(
  attempt: Attempt,
  { outcome, reason, answerCode }: Extract<Outcome, { outcome: 'try_again' | 'ask_again' }>,
  { now, earlierMayHave }: Known,
): Step {
  const { claimed, stopped, sentTo } = attempt;
  const nextAt = stopped ? now : nextAttempt(now, claimed.attempts, Math.random());
  const linkIsWorthless = outcome === 'try_again';
  if (nextAt === undefined) {
    const last = `${reason} Tried ${ATTEMPTS_MAX} times.`;
    const isUnsure = earlierMayHave || outcome === 'ask_again';
    const end = isUnsure ? givenUpUnsure(attempt, last) : givenUp(last, answerCode);
    return { ...end, linkIsWorthless };
  }
  return {
    event: 'delivery.put_off',
    data: {
      ...{ state: 'waiting', reason, nextAt, linkId: null, handedOverAt: null },
      answerCode: answerCode ?? null,
      // That it may have gone there is known from now on, whatever becomes of its link.
      ...(outcome === 'ask_again' && sentTo !== undefined && { sentTo }),
    },
    told: { answerCode: answerCode ?? null, nextAt },
    linkIsWorthless,
  };
}

function givenUp(reason: string, answerCode: number | undefined): Omit<Step, 'linkIsWorthless'> {
  return {
    event: 'delivery.given_up',
    data: { state: 'dead', reason, answerCode: answerCode ?? null },
    told: { answerCode: answerCode ?? null, mayHaveArrived: false },
  };
}

/** The last answer, whatever it was, is not about the try that may have arrived. */
function givenUpUnsure({ sentTo }: Attempt, reason: string): Omit<Step, 'linkIsWorthless'> {
  return {
    event: 'delivery.given_up',
    data: {
      ...{ state: 'dead', reason: `${reason} ${TEXT_MAY_HAVE_ARRIVED}` },
      ...(sentTo !== undefined && { sentTo }),
    },
    told: { mayHaveArrived: true },
    marksFirst: true,
  };
}
