import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { paymentBody } from './answer-invoice.ts';
import type { paymentMadeSchema } from './contract.ts';
import { lockIssued } from './lock-invoice.ts';
import { invoiceAfter, restInvoice } from './rest-invoice.ts';

/**
 * Takes a payment back that never was one: a check that came back, an amount typed wrongly. What
 * it paid is owed again. Money that was given back stays given back, so a payment that covers a
 * refund stays.
 * @returns the payment as it is now, and what the void leaves of its invoice
 * @throws ProblemError 404 for an unknown one, 409 when it was taken back before or covers a
 *   refund, 412 when somebody was first
 */
export async function voidPayment(
  act: ActContext,
  paymentId: string,
  { reason }: { reason: string },
): Promise<z.input<typeof paymentMadeSchema>> {
  const payment = await act.tx.payment.findUnique({ where: { id: paymentId } });
  if (payment === null) throw notFound('payment');
  const { invoiceId, amountCents } = payment;
  const invoice = await lockIssued(act, invoiceId, 'void_payment');
  const { money, state: before } = invoice;
  if (await act.tx.paymentVoid.findUnique({ where: { paymentId } })) {
    throw new ProblemError('already-exists', 'The payment was voided before.');
  }
  if (money.refundedCents > money.paidCents - amountCents) {
    throw new ProblemError(
      'not-allowed-now',
      'Money was given back that this payment covers. Without it, more would be given back than came in.',
      { currentState: before, refundedCents: money.refundedCents, allowedActions: [] },
    );
  }
  const voided = await act.tx.paymentVoid.create({
    data: { paymentId, reason, voidedAt: act.now, recordedById: act.actor.id },
  });
  const owedCents = money.balanceCents + amountCents;
  const state = await restInvoice(act, invoiceId, owedCents);
  await appendJournal(act, {
    event: 'payment.voided',
    subject: { kind: 'payment', id: paymentId },
    before: { state: before },
    after: { invoiceId, amountCents, state },
  });
  return { ...paymentBody({ ...payment, voided }), ...invoiceAfter(invoice, owedCents) };
}
