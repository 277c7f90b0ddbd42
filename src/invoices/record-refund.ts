import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newRefundSchema } from './contract.ts';
import { lockIssued } from './lock-invoice.ts';
import { type Earliest, moneyMovedAt } from './money-moved-at.ts';
import { restInvoice } from './rest-invoice.ts';
import type { StoredInvoice } from './whole-invoice.ts';

/**
 * Records money that was given back: of what was overpaid, never more.
 * @returns the id of the refund
 * @throws ProblemError 404 when there is no such invoice, 409 for a draft, 412 when somebody was
 *   first, 422 for more than was overpaid, 400 for money of the future or from before any came in
 */
export async function recordRefund(
  act: ActContext,
  invoiceId: string,
  input: z.output<typeof newRefundSchema>,
): Promise<string> {
  const { stored, money, state: before } = await lockIssued(act, invoiceId, 'refund');
  const { balanceCents } = money;
  if (input.amountCents > -balanceCents) {
    throw new ProblemError('above-balance', 'The refund is more than what was overpaid.', {
      balanceCents,
    });
  }
  const paidAt = moneyMovedAt(act, '/paidAt', input.paidAt, firstPaymentOf(stored));
  const id = act.newId();
  await act.tx.refund.create({
    data: {
      id,
      invoiceId,
      method: input.method,
      reference: input.reference ?? null,
      amountCents: input.amountCents,
      paidAt,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  const state = await restInvoice(act, invoiceId, balanceCents + input.amountCents);
  const { method, amountCents } = input;
  await appendJournal(act, {
    event: 'refund.recorded',
    subject: { kind: 'refund', id },
    before: { state: before },
    after: { invoiceId, method, amountCents, paidAt, state },
  });
  return id;
}

/** Nothing goes back before something came in. What was overpaid was paid, so there is one. */
function firstPaymentOf({ payments }: StoredInvoice): Earliest {
  const received = payments.filter(({ voided }) => voided === null).map((paid) => paid.receivedAt);
  const [first] = received.sort((one, other) => one.getTime() - other.getTime());
  if (first === undefined) throw new Error('money goes back that never came in');
  return { at: first, what: 'the first payment came in' };
}
