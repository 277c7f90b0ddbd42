import { z } from 'zod';
import { idParam } from '../platform/http/formats.ts';
import { pageOf, pageQuery } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import {
  answerToActOnSchema,
  followUpSchema,
  newFollowUpSchema,
  recordedFollowUpSchema,
} from './contract.ts';
import { listAnswers } from './list-answers.ts';
import { listFollowUps } from './list-follow-ups.ts';
import { recordFollowUp } from './record-follow-up.ts';

/** Asking about quotes that nobody answered, and going on where somebody did. */
export const followUpRoutes: readonly Route[] = [
  read({
    operationId: 'listFollowUps',
    summary: 'Quotes that wait for an answer, the next call due soonest first',
    description:
      'Also those that ran out while their tickets wait for the answer, with what to do instead.',
    tag: 'quotes',
    path: '/v1/follow-ups',
    access: ['dispatcher', 'owner'],
    query: z.strictObject(pageQuery),
    response: pageOf(followUpSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listFollowUps(context, query) }),
  }),
  read({
    operationId: 'listAnswers',
    summary: 'Answers to quotes whose tickets still wait for them, newest first, with what is next',
    description: 'Until the return visit is booked or the ticket is closed.',
    tag: 'quotes',
    path: '/v1/answers',
    access: ['dispatcher', 'owner'],
    query: z.strictObject(pageQuery),
    response: pageOf(answerToActOnSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listAnswers(context, query) }),
  }),
  act({
    operationId: 'recordFollowUp',
    summary: 'Record that the customer was asked about a quote',
    description: 'Each step of a revision is taken once, whoever takes it.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/follow-ups',
    access: ['dispatcher', 'owner'],
    params: idParam('quoteId'),
    body: newFollowUpSchema,
    response: recordedFollowUpSchema,
    status: 201,
    problems: ['already-exists', 'not-allowed-now', 'quote-expired'],
    handle: async (context, { params: { quoteId }, body }) => {
      await recordFollowUp(context, quoteId, body);
      const { revision, step, way, note = null } = body;
      return {
        body: { quoteId, revision, step, way, note, followedAt: context.now.toISOString() },
      };
    },
  }),
];
