import { z } from 'zod';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import { day, idParam, oneOrMore } from '../platform/http/formats.ts';
import { cutPage, orderQuery, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { act, bytes, type Route, read } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { answerInvoice } from './answer-invoice.ts';
import { bookkeepingQuery, entriesFile } from './bookkeeping.ts';
import {
  creditMemoMadeSchema,
  creditMemoSchema,
  invoiceSchema,
  invoiceStateSchema,
  invoiceSummarySchema,
  issueRequestSchema,
  newCreditMemoSchema,
  newPaymentSchema,
  newRefundSchema,
  paymentMadeSchema,
  receiptSchema,
  receivablesSchema,
  refundMadeSchema,
  refundSchema,
  takingsSchema,
  voidRequestSchema,
} from './contract.ts';
import { creditMemoOf } from './credit-memo-of.ts';
import { issueCreditMemo } from './issue-credit-memo.ts';
import { issueInvoice } from './issue-invoice.ts';
import { listInvoices } from './list-invoices.ts';
import { receiptOf } from './receipt-of.ts';
import { receivables } from './receivables.ts';
import { recordPayment } from './record-payment.ts';
import { recordRefund } from './record-refund.ts';
import { refundOf } from './refund-of.ts';
import { storeOf } from './store.ts';
import { takings } from './takings.ts';
import { voidPayment } from './void-payment.ts';
import { invoiceOf } from './whole-invoice.ts';

const office: Access = ['dispatcher', 'owner'];
const CSV = 'text/csv; charset=utf-8';

export const invoiceRoutes: readonly Route[] = [
  read({
    operationId: 'listInvoices',
    summary: 'Invoices, oldest or newest first; a technician sees those of own tickets only',
    tag: 'invoices',
    path: '/v1/invoices',
    access: anyStaff,
    query: z.strictObject({
      ...pageQuery,
      ...orderQuery,
      ticketId: z.uuid().optional(),
      payerId: z.uuid().optional(),
      state: oneOrMore(invoiceStateSchema).optional(),
    }),
    response: pageOf(invoiceSummarySchema),
    problems: ['cursor-invalid'],
    handle: async ({ sql, actor }, { query: { limit, cursor, ...chosen } }) => {
      const filter = { list: 'invoices', ...chosen };
      const rows = await listInvoices(sql, actor, {
        ticketId: chosen.ticketId,
        payerId: chosen.payerId,
        state: chosen.state,
        order: chosen.order,
        after: startAfter(cursor, filter),
        limit: limit + 1,
      });
      const page = cutPage(rows, limit, filter);
      const items = page.items.map((row) => ({
        ...row,
        issuedAt: row.issuedAt?.toISOString() ?? null,
      }));
      return { body: { ...page, items } };
    },
  }),
  read({
    operationId: 'getInvoice',
    summary: 'One invoice: what it bills, what came in, what is owed',
    description:
      'Of a draft, what would be billed if it were issued now; its ETag is also of that.',
    tag: 'invoices',
    path: '/v1/invoices/:invoiceId',
    access: anyStaff,
    params: idParam('invoiceId'),
    response: invoiceSchema,
    versioned: true,
    problems: ['no-tax-rule'],
    handle: async ({ actor, ...store }, { params }) =>
      answerInvoice(await invoiceOf(store, actor, params.invoiceId)),
  }),
  act({
    operationId: 'issueInvoice',
    summary: 'Issue an invoice: it gets its number, and from now on nothing in it changes',
    tag: 'invoices',
    method: 'POST',
    path: '/v1/invoices/:invoiceId/issue',
    access: anyStaff,
    params: idParam('invoiceId'),
    body: issueRequestSchema,
    response: invoiceSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'no-tax-rule'],
    handle: async (context, { params, body }) => {
      await issueInvoice(context, params.invoiceId, body);
      return answerInvoice(await invoiceOf(storeOf(context), context.actor, params.invoiceId));
    },
  }),
  act({
    operationId: 'recordPayment',
    summary: 'Money came in for an invoice: all that is owed, or part of it',
    tag: 'invoices',
    method: 'POST',
    path: '/v1/invoices/:invoiceId/payments',
    access: anyStaff,
    params: idParam('invoiceId'),
    body: newPaymentSchema,
    response: paymentMadeSchema,
    status: 201,
    ifMatch: true,
    problems: ['not-allowed-now', 'above-balance', 'no-tax-rule'],
    handle: async (context, { params, body }) => {
      const payment = await recordPayment(context, params.invoiceId, body);
      return { body: payment, location: `/v1/payments/${payment.id}` };
    },
  }),
  read({
    operationId: 'getPayment',
    summary: 'The receipt of a payment',
    tag: 'invoices',
    path: '/v1/payments/:paymentId',
    access: anyStaff,
    params: idParam('paymentId'),
    response: receiptSchema,
    problems: ['no-tax-rule'],
    handle: async ({ actor, ...store }, { params }) => ({
      body: await receiptOf(store, actor, params.paymentId),
    }),
  }),
  act({
    operationId: 'voidPayment',
    summary: 'Take a payment back that never was one; what it paid is owed again',
    description: 'The If-Match header names the version of its invoice.',
    tag: 'invoices',
    method: 'POST',
    path: '/v1/payments/:paymentId/void',
    access: ['owner'],
    params: idParam('paymentId'),
    body: voidRequestSchema,
    response: paymentMadeSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'already-exists', 'no-tax-rule'],
    handle: async (context, { params, body }) => ({
      body: await voidPayment(context, params.paymentId, body),
    }),
  }),
  act({
    operationId: 'recordRefund',
    summary: 'Money was given back: of what was overpaid, never more',
    tag: 'invoices',
    method: 'POST',
    path: '/v1/invoices/:invoiceId/refunds',
    access: ['owner'],
    params: idParam('invoiceId'),
    body: newRefundSchema,
    response: refundMadeSchema,
    status: 201,
    ifMatch: true,
    problems: ['not-allowed-now', 'above-balance', 'no-tax-rule'],
    handle: async (context, { params, body }) => {
      const refund = await recordRefund(context, params.invoiceId, body);
      return { body: refund, location: `/v1/refunds/${refund.id}` };
    },
  }),
  read({
    operationId: 'getRefund',
    summary: 'Money that was given back',
    tag: 'invoices',
    path: '/v1/refunds/:refundId',
    access: anyStaff,
    params: idParam('refundId'),
    response: refundSchema,
    handle: async ({ actor, prisma }, { params }) => ({
      body: await refundOf({ prisma }, actor, params.refundId),
    }),
  }),
  act({
    operationId: 'issueCreditMemo',
    summary: 'Credit lines of an invoice; their tax follows by itself',
    tag: 'invoices',
    method: 'POST',
    path: '/v1/invoices/:invoiceId/credit-memos',
    access: ['owner'],
    params: idParam('invoiceId'),
    body: newCreditMemoSchema,
    response: creditMemoMadeSchema,
    status: 201,
    ifMatch: true,
    problems: ['not-allowed-now', 'above-balance', 'unknown-reference', 'no-tax-rule'],
    handle: async (context, { params, body }) => {
      const memo = await issueCreditMemo(context, params.invoiceId, body);
      return { body: memo, location: `/v1/credit-memos/${memo.id}` };
    },
  }),
  read({
    operationId: 'getCreditMemo',
    summary: 'One credit memo',
    tag: 'invoices',
    path: '/v1/credit-memos/:memoId',
    access: anyStaff,
    params: idParam('memoId'),
    response: creditMemoSchema,
    handle: async ({ actor, prisma }, { params }) => ({
      body: await creditMemoOf({ prisma }, actor, params.memoId),
    }),
  }),
  read({
    operationId: 'getReceivables',
    summary: 'What customers owe at the end of a day, by how long it has been due',
    tag: 'bookkeeping',
    path: '/v1/receivables',
    access: office,
    isReport: true,
    query: z.strictObject({ ...pageQuery, asOf: day.optional() }),
    response: receivablesSchema,
    problems: ['cursor-invalid'],
    handle: async ({ now, ...store }, { query }) => ({
      body: await receivables(store, query, now),
    }),
  }),
  read({
    operationId: 'getTakings',
    summary: 'What came in on a day, by method and by who took it',
    description:
      'By when money is said to have come in or gone out, not by when that was written down.',
    tag: 'bookkeeping',
    path: '/v1/takings',
    access: office,
    isReport: true,
    query: z.strictObject({ day: day.optional() }),
    response: takingsSchema,
    handle: async ({ now, ...store }, { query }) => ({
      body: await takings(store, query.day, now),
    }),
  }),
  bytes({
    operationId: 'getBookkeepingEntries',
    summary: 'The entries of some days for the bookkeeper, as a CSV file',
    description:
      'One row per posting; the debits of an entry equal its credits. Amounts are dollars. Everything ' +
      'stands on the day on which it was written down, so a file of days that are over never ' +
      'changes; what happened on another day has that day in its memo. An entry is named by its ' +
      'document, so that a second import of it can be recognized. A cell that a spreadsheet would ' +
      'take for a formula has an apostrophe in front.',
    tag: 'bookkeeping',
    path: '/v1/bookkeeping/entries.csv',
    access: ['owner'],
    isReport: true,
    query: bookkeepingQuery,
    mediaTypes: [CSV],
    disposition: 'attachment',
    handle: async ({ now, ...store }, { query }) => {
      const { from, to, bytes: file } = await entriesFile(store, query, now);
      return {
        bytes: file,
        mediaType: CSV,
        etag: `"${sha256(file)}"`,
        fileName: `entries-${from}-to-${to}.csv`,
      };
    },
  }),
];
