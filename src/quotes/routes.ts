import { z } from 'zod';
import { fileAnswer } from '../papers/index.ts';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { cutPage, orderQuery, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { act, bytes, type Route, read } from '../platform/http/route.ts';
import { acceptQuote } from './accept-quote.ts';
import { cancelAcceptance } from './cancel-acceptance.ts';
import { confirmRefrigerantRules } from './confirm-refrigerant-rules.ts';
import {
  acceptanceRequestSchema,
  cancellationRequestSchema,
  confirmationRequestSchema,
  confirmationSchema,
  declineNoteSchema,
  declineRequestSchema,
  newQuoteSchema,
  partialYesSchema,
  quoteSchema,
  quoteSummarySchema,
  repairOrReplaceSchema,
  revisionRequestSchema,
} from './contract.ts';
import { declineQuote } from './decline-quote.ts';
import { draftQuote } from './draft-quote.ts';
import { issueQuote } from './issue-quote.ts';
import { listQuotes } from './list-quotes.ts';
import { noteDecline } from './note-decline.ts';
import { partialYes } from './partial-yes.ts';
import { quoteDocument } from './quote-document.ts';
import { readQuote } from './read-quote.ts';
import { repairOrReplaceOf } from './repair-or-replace-of.ts';
import { requireOwn } from './require-own.ts';
import { reviseQuote } from './revise-quote.ts';
import { withdrawQuote } from './withdraw-quote.ts';

const quoting: Access = ['technician', 'owner'];
const answering: Access = ['technician', 'dispatcher', 'owner'];
const PRICING_PROBLEMS = [
  'evidence-missing',
  'price-refused',
  'unknown-reference',
  'not-allowed-now',
  'no-price-book',
  'no-tax-rule',
] as const;
const oneQuote = { params: idParam('quoteId'), response: quoteSchema, ifMatch: true } as const;

export const quoteRoutes: readonly Route[] = [
  act({
    operationId: 'draftQuote',
    summary: 'Price findings into a draft quote',
    description: 'Nobody types a price: it follows from findings, price book, policy and tax rule.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes',
    access: quoting,
    body: newQuoteSchema,
    response: quoteSchema,
    status: 201,
    problems: PRICING_PROBLEMS,
    handle: async (context, { body }) => {
      const id = await draftQuote(context, body);
      return { ...(await readQuote(context.tx, context, id)), location: `/v1/quotes/${id}` };
    },
  }),
  read({
    operationId: 'listQuotes',
    summary: 'Quotes, oldest or newest first; a technician sees those of own tickets only',
    tag: 'quotes',
    path: '/v1/quotes',
    access: anyStaff,
    query: z.strictObject({ ...pageQuery, ...orderQuery, ticketId: z.uuid().optional() }),
    response: pageOf(quoteSummarySchema),
    problems: ['cursor-invalid'],
    handle: async ({ sql, actor }, { query }) => {
      const filter = { list: 'quotes', ticketId: query.ticketId, order: query.order };
      const rows = await listQuotes(sql, {
        ...filter,
        technicianId: actor.role === 'technician' ? actor.id : undefined,
        after: startAfter(query.cursor, filter),
        limit: query.limit + 1,
      });
      return { body: cutPage(rows, query.limit, filter) };
    },
  }),
  read({
    operationId: 'getQuote',
    summary: 'One quote: every line with why it costs what it costs',
    tag: 'quotes',
    path: '/v1/quotes/:quoteId',
    access: anyStaff,
    params: idParam('quoteId'),
    query: z.strictObject({ revision: z.coerce.number().int().min(1).optional() }),
    response: quoteSchema,
    versioned: true,
    handle: (context, { params, query }) =>
      readQuote(context.prisma, context, params.quoteId, query.revision),
  }),
  bytes({
    operationId: 'getQuotePaper',
    summary: 'The quote as PDF',
    tag: 'quotes',
    path: '/v1/quotes/:quoteId/paper',
    access: anyStaff,
    params: idParam('quoteId'),
    query: z.strictObject({
      revision: z.coerce.number().int().min(1).optional(),
      language: z.enum(['en', 'es']).optional(),
    }),
    mediaTypes: ['application/pdf'],
    disposition: 'inline',
    problems: ['not-allowed-now'],
    handle: async (context, { params, query }) => {
      return fileAnswer(await quoteDocument(context, params.quoteId, query));
    },
  }),
  act({
    ...oneQuote,
    operationId: 'reviseQuote',
    summary: 'Make the next revision as a draft; the issued one stands until it is issued',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/revise',
    access: quoting,
    body: revisionRequestSchema,
    problems: PRICING_PROBLEMS,
    handle: async (context, { params, body }) => {
      await requireOwn(context, params.quoteId);
      await reviseQuote(context, params.quoteId, body);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
  act({
    ...oneQuote,
    operationId: 'partialYes',
    summary: 'Make the next revision as a draft: some findings of one option, and no more',
    description: 'It is priced anew, and issued and accepted like any other revision.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/partial-yes',
    access: quoting,
    body: partialYesSchema,
    problems: PRICING_PROBLEMS,
    handle: async (context, { params, body }) => {
      await requireOwn(context, params.quoteId);
      await partialYes(context, params.quoteId, body);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
  act({
    ...oneQuote,
    operationId: 'issueQuote',
    summary: 'Issue the latest revision: from now on nothing in it changes',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/issue',
    access: quoting,
    problems: [
      'not-allowed-now',
      'evidence-missing',
      'owner-confirmation-needed',
      'price-outdated',
      'price-refused',
      'no-price-book',
      'no-tax-rule',
    ],
    handle: async (context, { params }) => {
      await requireOwn(context, params.quoteId);
      await issueQuote(context, params.quoteId);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
  read({
    operationId: 'getRepairOrReplace',
    summary: 'Facts on repairing or replacing each machine that a quote mends',
    description:
      'Age, warranties, cost and typical price, refrigerant, and the rules of thumb of the trade ' +
      'with their inputs. The word is repair, or repair and talk about replacing; never more.',
    tag: 'quotes',
    path: '/v1/quotes/:quoteId/repair-or-replace',
    access: anyStaff,
    params: idParam('quoteId'),
    query: z.strictObject({ revision: z.coerce.number().int().min(1).optional() }),
    response: repairOrReplaceSchema,
    handle: async (context, { params, query }) => ({
      body: await repairOrReplaceOf(context, params.quoteId, query.revision),
    }),
  }),
  act({
    operationId: 'confirmRefrigerantRules',
    summary: 'Confirm the refrigerant rules in force for the new machine of the latest revision',
    description: 'It holds for that revision alone; without it the revision is not issued.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/confirm-refrigerant-rules',
    access: ['owner'],
    params: idParam('quoteId'),
    body: confirmationRequestSchema,
    response: confirmationSchema,
    ifMatch: true,
    problems: ['already-exists', 'not-allowed-now', 'owner-confirmation-needed'],
    handle: (context, { params, body }) => confirmRefrigerantRules(context, params.quoteId, body),
  }),
  act({
    ...oneQuote,
    operationId: 'withdrawQuote',
    summary: 'Withdraw a quote that has not been answered',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/withdraw',
    access: quoting,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => {
      await requireOwn(context, params.quoteId);
      await withdrawQuote(context, params.quoteId);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
  act({
    ...oneQuote,
    operationId: 'acceptQuote',
    summary: 'Record the customer’s yes to one option',
    description: 'Names the option, and the total and content hash that were shown.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/accept',
    access: answering,
    body: acceptanceRequestSchema,
    problems: [
      'above-approval-limit',
      'evidence-missing',
      'no-price-book',
      'not-allowed-now',
      'price-outdated',
      'price-refused',
      'quote-expired',
      'shown-content-changed',
      'unknown-reference',
    ],
    handle: async (context, { params, body }) => {
      await requireOwn(context, params.quoteId);
      await acceptQuote(context, params.quoteId, body);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
  act({
    ...oneQuote,
    operationId: 'declineQuote',
    summary: 'Record the customer’s no, and how the system was left',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/decline',
    access: answering,
    body: declineRequestSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) => {
      await requireOwn(context, params.quoteId);
      await declineQuote(context, params.quoteId, body);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
  act({
    operationId: 'noteDecline',
    summary: 'Record how the system was left after a no that came from afar',
    description: 'Once. The customer’s page shows it with the no.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/decline-notes',
    access: answering,
    params: idParam('quoteId'),
    body: declineNoteSchema,
    response: quoteSchema,
    status: 201,
    problems: ['not-allowed-now', 'already-exists'],
    handle: async (context, { params, body }) => {
      await requireOwn(context, params.quoteId);
      await noteDecline(context, params.quoteId, body);
      return { body: (await readQuote(context.tx, context, params.quoteId)).body };
    },
  }),
  act({
    ...oneQuote,
    operationId: 'cancelAcceptance',
    summary: 'Record that the customer took the yes back, where the law gives that right',
    description: 'Only before `acceptance.cancelUntil`. What was sold under it is not billed.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/cancel-acceptance',
    access: answering,
    body: cancellationRequestSchema,
    problems: ['no-tax-rule', 'not-allowed-now'],
    handle: async (context, { params, body }) => {
      await requireOwn(context, params.quoteId);
      await cancelAcceptance(context, params.quoteId, body);
      return readQuote(context.tx, context, params.quoteId);
    },
  }),
];
