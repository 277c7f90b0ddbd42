import type { z } from 'zod';
import { balanceOf } from '../billing/index.ts';
import type { Actor } from '../platform/access/actor.ts';
import { notFound } from '../platform/http/problem.ts';
import { paymentBody } from './answer-invoice.ts';
import type { receiptSchema } from './contract.ts';
import { sumOf } from './money-of.ts';
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
  const { stored, issue, etag } = invoice;
  return {
    ...paymentBody(payment),
    invoiceEtag: etag,
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
  const paid = stored.payments.filter(
    (each) => isBefore(each) && !(each.id < id && wasVoidedBy(each, recordedAt)),
  );
  return balanceOf({
    totalCents,
    creditedCents: sumOf(stored.creditMemos.filter(isBefore).map((memo) => memo.totalCents)),
    paidCents: sumOf(paid.map(({ amountCents }) => amountCents)),
    refundedCents: sumOf(stored.refunds.filter(isBefore).map(({ amountCents }) => amountCents)),
  });
}

function wasVoidedBy({ voided }: Payment, at: Date): boolean {
  return voided !== null && voided.voidedAt <= at;
}
