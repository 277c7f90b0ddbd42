import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { dollarsText } from '../pricing/index.ts';
import { paymentBody } from './answer-invoice.ts';
import type { newPaymentSchema, paymentMadeSchema } from './contract.ts';
import { lockIssued } from './lock-invoice.ts';
import { moneyMovedAt } from './money-moved-at.ts';
import { invoiceAfter, restInvoice } from './rest-invoice.ts';

/**
 * Records money that came in for an invoice, all that is owed or part of it.
 * @returns the payment, and what it leaves of its invoice
 * @throws ProblemError 404 when the invoice is not theirs, 409 for a draft and where nothing is owed
 *   either way, 412 when somebody was
 *   first, 422 for more than is owed, 400 for money of the future or from before the ticket, 403 for
 *   money of more than two days ago unless the owner says so
 */
export async function recordPayment(
  act: ActContext,
  invoiceId: string,
  input: z.output<typeof newPaymentSchema>,
): Promise<z.input<typeof paymentMadeSchema>> {
  const invoice = await lockIssued(act, invoiceId, 'pay');
  const { stored, money, state: before } = invoice;
  const { balanceCents } = money;
  if (input.amountCents > balanceCents) {
    throw new ProblemError('above-balance', aboveOwed(input.amountCents, balanceCents), {
      balanceCents,
    });
  }
  const receivedAt = await moneyMovedAt(act, '/receivedAt', input.receivedAt, {
    at: stored.ticket.createdAt,
    what: 'the ticket was opened',
  });
  const id = act.newId();
  const payment = await act.tx.payment.create({
    data: {
      id,
      invoiceId,
      method: input.method,
      reference: input.reference ?? null,
      amountCents: input.amountCents,
      paidByName: input.paidByName ?? null,
      receivedAt,
      recordedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  const { receiptNumber, method, amountCents } = payment;
  const leftCents = balanceCents - amountCents;
  const state = await restInvoice(act, invoiceId, leftCents);
  await appendJournal(act, {
    event: 'payment.recorded',
    subject: { kind: 'payment', id },
    before: { state: before },
    after: { invoiceId, receiptNumber, method, amountCents, receivedAt, state },
  });
  return { ...paymentBody({ ...payment, voided: null }), ...invoiceAfter(invoice, leftCents) };
}

function aboveOwed(amountCents: number, balanceCents: number): string {
  if (balanceCents <= 0) return 'Nothing is owed.';
  return `${dollarsText(amountCents)} is more than the ${dollarsText(balanceCents)} that is owed.`;
}
