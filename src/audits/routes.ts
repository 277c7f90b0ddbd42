import { z } from 'zod';
import type { Access } from '../platform/access/actor.ts';
import { code, idParam, oneOrMore } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { acceptFlag } from './accept-flag.ts';
import { auditTicket } from './audit-ticket.ts';
import {
  acceptFlagSchema,
  auditPeriodQuery,
  auditRunSchema,
  auditSummarySchema,
  dismissFlagSchema,
  flagSchema,
  flagStateSchema,
  ticketAuditSchema,
} from './contract.ts';
import { dismissFlag } from './dismiss-flag.ts';
import { answerWithFlag, flagBody } from './flag-body.ts';
import { flagOf } from './flag-of.ts';
import { listFlags } from './list-flags.ts';
import { runBody } from './run-body.ts';
import { startRun } from './start-run.ts';
import { summarizeAudit } from './summarize-audit.ts';

const owner: Access = ['owner'];

export const auditRoutes: readonly Route[] = [
  read({
    operationId: 'getAudit',
    summary: 'What cannot be justified of the tickets that ended in a period, rule by rule',
    description: 'A flag asks for a look at the job’s file; it accuses nobody.',
    tag: 'audit',
    path: '/v1/audit',
    access: owner,
    isReport: true,
    query: auditPeriodQuery,
    response: auditSummarySchema,
    handle: async (context, { query }) => ({ body: await summarizeAudit(context, query) }),
  }),
  read({
    operationId: 'listAuditFlags',
    summary: 'Flags, the newest first',
    tag: 'audit',
    path: '/v1/audit/flags',
    access: owner,
    query: z.strictObject({
      ...pageQuery,
      ...auditPeriodQuery.shape,
      state: oneOrMore(flagStateSchema).optional(),
      rule: code.optional().meta({ description: 'The code of a rule.' }),
      technicianId: z.uuid().optional().meta({ description: 'Who was there.' }),
    }),
    response: pageOf(flagSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query: { limit, cursor, ...wanted } }) => {
      const filter = { list: 'audit_flags', ...wanted };
      const after = startAfter(cursor, filter);
      const flags = await listFlags(context, { ...wanted, after, limit: limit + 1 });
      return { body: cutPage(flags.map(flagBody), limit, filter) };
    },
  }),
  read({
    operationId: 'getAuditFlag',
    summary: 'One flag, with its answer and the letter that went with it',
    tag: 'audit',
    path: '/v1/audit/flags/:flagId',
    access: owner,
    params: idParam('flagId'),
    response: flagSchema,
    versioned: true,
    handle: async ({ prisma }, { params }) => answerWithFlag(await flagOf(prisma, params.flagId)),
  }),
  read({
    operationId: 'auditTicket',
    summary: 'A ticket that is over, held against every rule',
    tag: 'audit',
    path: '/v1/audit/tickets/:ticketId',
    access: owner,
    params: idParam('ticketId'),
    response: ticketAuditSchema,
    handle: async (context, { params }) => ({ body: await auditTicket(context, params.ticketId) }),
  }),
  act({
    operationId: 'acceptAuditFlag',
    summary: 'Put right what a flag says: give back what was too much, with a letter',
    tag: 'audit',
    method: 'POST',
    path: '/v1/audit/flags/:flagId/accept',
    access: owner,
    params: idParam('flagId'),
    body: acceptFlagSchema,
    response: flagSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'no-tax-rule'],
    handle: async (context, { params, body }) => {
      await acceptFlag(context, params.flagId, body);
      return answerWithFlag(await flagOf(context.tx, params.flagId));
    },
  }),
  act({
    operationId: 'dismissAuditFlag',
    summary: 'Leave everything as it is, for a reason',
    tag: 'audit',
    method: 'POST',
    path: '/v1/audit/flags/:flagId/dismiss',
    access: owner,
    params: idParam('flagId'),
    body: dismissFlagSchema,
    response: flagSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) => {
      await dismissFlag(context, params.flagId, body);
      return answerWithFlag(await flagOf(context.tx, params.flagId));
    },
  }),
  act({
    operationId: 'startAuditRun',
    summary: 'Judge every ticket that is over again, in the background',
    tag: 'audit',
    method: 'POST',
    path: '/v1/audit/runs',
    access: owner,
    response: auditRunSchema,
    status: 201,
    problems: ['already-exists'],
    handle: async (context) => ({ body: runBody(await startRun(context, 'asked')) }),
  }),
];
