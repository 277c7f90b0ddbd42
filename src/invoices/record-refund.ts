import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { dollarsText } from '../pricing/index.ts';
import { refundBody } from './answer-invoice.ts';
import type { newRefundSchema, refundMadeSchema } from './contract.ts';
import { lockIssued } from './lock-invoice.ts';
import { type Earliest, moneyMovedAt } from './money-moved-at.ts';
import { invoiceAfter, restInvoice } from './rest-invoice.ts';
import type { StoredInvoice } from './whole-invoice.ts';

/**
 * Records money that was given back: of what was overpaid, never more.
 * @returns the refund, and what it leaves of its invoice
 * @throws ProblemError 404 when there is no such invoice, 409 for a draft and where nothing is
 *   owed either way, 412 when somebody was
 *   first, 422 for more than was overpaid, 400 for money of the future or from before any came in
 */
export async function recordRefund(
  act: ActContext,
  invoiceId: string,
  input: z.output<typeof newRefundSchema>,
): Promise<z.input<typeof refundMadeSchema>> {
  const invoice = await lockIssued(act, invoiceId, 'refund');
  const { stored, money, state: before } = invoice;
  const { balanceCents } = money;
  if (input.amountCents > -balanceCents) {
    throw new ProblemError('above-balance', aboveOverpaid(input.amountCents, balanceCents), {
      balanceCents,
    });
  }
  const paidAt = await moneyMovedAt(act, '/paidAt', input.paidAt, firstPaymentOf(stored));
  const id = act.newId();
  const refund = await act.tx.refund.create({
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
  const { method, amountCents } = refund;
  const leftCents = balanceCents + amountCents;
  const state = await restInvoice(act, invoiceId, leftCents);
  await appendJournal(act, {
    event: 'refund.recorded',
    subject: { kind: 'refund', id },
    before: { state: before },
    after: { invoiceId, method, amountCents, paidAt, state },
  });
  return { ...refundBody(refund), ...invoiceAfter(invoice, leftCents) };
}

function aboveOverpaid(amountCents: number, balanceCents: number): string {
  if (balanceCents >= 0) return `Nothing was overpaid: ${dollarsText(balanceCents)} is still owed.`;
  return `${dollarsText(amountCents)} is more than the ${dollarsText(-balanceCents)} that was overpaid.`;
}

/** Nothing goes back before something came in. What was overpaid was paid, so there is one. */
function firstPaymentOf({ payments }: StoredInvoice): Earliest {
  const received = payments.filter(({ voided }) => voided === null).map((paid) => paid.receivedAt);
  const [first] = received.sort((one, other) => one.getTime() - other.getTime());
  if (first === undefined) throw new Error('money goes back that never came in');
  return { at: first, what: 'the first payment came in' };
}
