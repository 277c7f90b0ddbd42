import type { z } from 'zod';
import { invoiceActions } from '../lifecycles/index.ts';
import { dayText } from '../platform/calendar-day.ts';
import type { Reply } from '../platform/http/route.ts';
import {
  creditMemoSchema,
  type invoiceSchema,
  moneyMethodSchema,
  type paymentSchema,
  type refundSchema,
} from './contract.ts';
import type { StoredInvoice, WholeInvoice } from './whole-invoice.ts';

type InvoiceBody = z.input<typeof invoiceSchema>;
type DocumentBody = InvoiceBody['documents'][number];

/** An invoice as an answer, with its tag. */
export function answerInvoice(invoice: WholeInvoice): Reply<InvoiceBody> {
  const { stored, etag } = invoice;
  return {
    body: {
      id: stored.id,
      ticketId: stored.ticketId,
      closingId: stored.closingId,
      payerId: stored.payerId,
      state: invoice.state,
      ...(invoice.state === 'draft' ? draftBody(invoice) : issuedBody(invoice)),
      payments: stored.payments.map(paymentBody),
      refunds: stored.refunds.map(refundBody),
      creditMemos: stored.creditMemos.map(creditMemoBody),
    },
    etag,
  };
}

function draftBody({ bill }: Extract<WholeInvoice, { state: 'draft' }>) {
  const money = {
    totalCents: bill.totalCents,
    creditedCents: 0,
    paidCents: 0,
    refundedCents: 0,
    balanceCents: 0,
  };
  return {
    allowedActions: invoiceActions('draft', money),
    number: null,
    issuedAt: null,
    dueOn: null,
    contentHash: null,
    documents: bill.documents.map(
      (document, at): DocumentBody => ({
        position: at + 1,
        kind: document.kind,
        quoteId: document.kind === 'visit_fee' ? null : document.quoteId,
        visitId: document.kind === 'visit_fee' ? document.visitId : null,
        taxCents: document.taxCents,
        totalCents: document.totalCents,
        lines: document.lines.map(lineBody),
      }),
    ),
    taxCents: bill.taxCents,
    ...money,
  };
}

function issuedBody({ state, stored, issue, money }: Exclude<WholeInvoice, { state: 'draft' }>) {
  return {
    allowedActions: invoiceActions(state, money),
    number: issue.number,
    issuedAt: issue.issuedAt.toISOString(),
    dueOn: dayText(issue.dueOn),
    contentHash: issue.contentHash,
    documents: stored.documents.map(
      (document): DocumentBody => ({
        position: document.position,
        kind: document.kind as DocumentBody['kind'],
        quoteId: document.quoteId ?? document.undoneQuoteId,
        visitId: document.visitId,
        taxCents: document.taxCents,
        totalCents: document.totalCents,
        lines: document.lines.map(lineBody),
      }),
    ),
    taxCents: issue.taxCents,
    ...money,
  };
}

type LineBody = DocumentBody['lines'][number];

function lineBody(line: {
  key: string;
  kind: string;
  priceClass: string;
  description: string;
  aimedAt: string | null;
  amountCents: number;
}): LineBody {
  const { key, description, aimedAt, amountCents } = line;
  const kind = line.kind as LineBody['kind'];
  return {
    key,
    kind,
    class: line.priceClass as LineBody['class'],
    description,
    aimedAt,
    amountCents,
  };
}

/** A payment as an answer. */
export function paymentBody(
  payment: Omit<StoredInvoice['payments'][number], 'recordedAt'>,
): z.input<typeof paymentSchema> {
  const { voided } = payment;
  return {
    id: payment.id,
    receiptNumber: payment.receiptNumber,
    invoiceId: payment.invoiceId,
    method: moneyMethodSchema.parse(payment.method),
    reference: payment.reference,
    amountCents: payment.amountCents,
    paidByName: payment.paidByName,
    receivedAt: payment.receivedAt.toISOString(),
    recordedById: payment.recordedById,
    voided: voided && { reason: voided.reason, voidedAt: voided.voidedAt.toISOString() },
  };
}

/** A refund as an answer. */
export function refundBody(refund: StoredInvoice['refunds'][number]): z.input<typeof refundSchema> {
  const { id, invoiceId, reference, amountCents, recordedById } = refund;
  const method = moneyMethodSchema.parse(refund.method);
  const paidAt = refund.paidAt.toISOString();
  return { id, invoiceId, method, reference, amountCents, paidAt, recordedById };
}

/** A credit memo as an answer. */
export function creditMemoBody(
  memo: StoredInvoice['creditMemos'][number],
): z.input<typeof creditMemoSchema> {
  const { id, number, invoiceId, reason, issuedById, contentHash, taxCents, totalCents } = memo;
  return {
    id,
    number,
    invoiceId,
    kind: creditMemoSchema.shape.kind.parse(memo.kind),
    reason,
    issuedAt: memo.issuedAt.toISOString(),
    issuedById,
    contentHash,
    taxCents,
    totalCents,
    lines: memo.lines.map(({ document, key, priceClass, description, amountCents }) => ({
      document,
      key,
      class: priceClass as LineBody['class'],
      description,
      amountCents,
    })),
  };
}
