import type { z } from 'zod';
import type { Actor } from '../platform/access/actor.ts';
import { notFound } from '../platform/http/problem.ts';
import { paymentBody } from './answer-invoice.ts';
import type { receiptSchema } from './contract.ts';
import type { Store } from './store.ts';
import { invoiceOf, ownInvoices, type StoredInvoice } from './whole-invoice.ts';

type Payment = StoredInvoice['payments'][number];

/**
 * The receipt of a payment that whoever asks may see. What was owed after it is told as it was
 * then: neither later money nor a later void changes it.
 * @throws ProblemError 404, the same for one that does not exist and one that is not theirs
 */
export async function receiptOf(
  store: Store,
  actor: Actor,
  paymentId: string,
): Promise<z.input<typeof receiptSchema>> {
  const { payment, invoice } = await paymentOf(store, actor, paymentId);
  const { stored, issue } = invoice;
  return {
    ...paymentBody(payment),
    invoiceNumber: issue.number,
    ticketNumber: stored.ticket.number,
    invoiceTotalCents: issue.totalCents,
    balanceAfterCents: balanceAfter(stored, issue.totalCents, payment),
  };
}

/** A payment with its invoice, for whoever may see that. */
async function paymentOf(store: Store, actor: Actor, paymentId: string) {
  const found = await store.prisma.payment.findFirst({
    where: { id: paymentId, invoice: ownInvoices(actor) },
  });
  if (found === null) throw notFound('payment');
  const invoice = await invoiceOf(store, actor, found.invoiceId);
  const payment = invoice.stored.payments.find(({ id }) => id === paymentId);
  if (payment === undefined || invoice.state === 'draft') throw notFound('payment');
  return { payment, invoice };
}

/** Identifiers are in the order of time, also within one instant of the clock. */
function balanceAfter(stored: StoredInvoice, totalCents: number, { id, recordedAt }: Payment) {
  const isBefore = (each: { id: string }) => each.id <= id;
  const credited = stored.creditMemos.filter(isBefore).map((memo) => memo.totalCents);
  const refunded = stored.refunds.filter(isBefore).map(({ amountCents }) => amountCents);
  const paid = stored.payments
    .filter((each) => isBefore(each) && !(each.id < id && wasVoidedBy(each, recordedAt)))
    .map(({ amountCents }) => amountCents);
  return totalCents - sumOf(credited) - sumOf(paid) + sumOf(refunded);
}

function wasVoidedBy({ voided }: Payment, at: Date): boolean {
  return voided !== null && voided.voidedAt <= at;
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}
