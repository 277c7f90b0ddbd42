import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newPaymentSchema } from './contract.ts';
import { lockIssued } from './lock-invoice.ts';
import { moneyMovedAt } from './money-moved-at.ts';
import { restInvoice } from './rest-invoice.ts';

/**
 * Records money that came in for an invoice, all that is owed or part of it.
 * @returns the id of the payment
 * @throws ProblemError 404 when the invoice is not theirs, 409 for a draft, 412 when somebody was
 *   first, 422 for more than is owed, 400 for money of the future or from before the ticket, 403 for
 *   money of more than two days ago unless the owner says so
 */
export async function recordPayment(
  act: ActContext,
  invoiceId: string,
  input: z.output<typeof newPaymentSchema>,
): Promise<string> {
  const { stored, money, state: before } = await lockIssued(act, invoiceId, 'pay');
  const { balanceCents } = money;
  if (input.amountCents > balanceCents) {
    throw new ProblemError('above-balance', 'The payment is more than what is owed.', {
      balanceCents,
    });
  }
  const receivedAt = moneyMovedAt(act, '/receivedAt', input.receivedAt, {
    at: stored.ticket.createdAt,
    what: 'the ticket was opened',
  });
  const id = act.newId();
  const { receiptNumber } = await act.tx.payment.create({
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
  const state = await restInvoice(act, invoiceId, balanceCents - input.amountCents);
  const { method, amountCents } = input;
  await appendJournal(act, {
    event: 'payment.recorded',
    subject: { kind: 'payment', id },
    before: { state: before },
    after: { invoiceId, receiptNumber, method, amountCents, receivedAt, state },
  });
  return id;
}
