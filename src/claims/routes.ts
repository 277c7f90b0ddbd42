import { z } from 'zod';
import type { Access } from '../platform/access/actor.ts';
import { idParam, oneOrMore } from '../platform/http/formats.ts';
import {
  cutPage,
  orderQuery,
  pageOf,
  pageQuery,
  readOn,
  startAfter,
} from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { answerClaim, claimBody, claimOf, wholeClaim } from './claim-of.ts';
import {
  claimCreditSchema,
  claimRefusalSchema,
  claimSchema,
  claimSendSchema,
  claimStateSchema,
  claimWithdrawalSchema,
} from './contract.ts';
import { openClaim } from './open-claim.ts';
import { type ClaimStep, stepClaim } from './step-claim.ts';

const office: Access = ['dispatcher', 'owner'];

/** A step of a claim as a route: POST /v1/claims/{claimId}/{verb}. */
function step<B extends z.ZodType>(definition: {
  operationId: string;
  verb: string;
  summary: string;
  body: B;
  step: (body: z.output<B>) => ClaimStep;
}): Route {
  return act({
    operationId: definition.operationId,
    summary: definition.summary,
    tag: 'claims',
    method: 'POST',
    path: `/v1/claims/:claimId/${definition.verb}`,
    access: office,
    params: idParam('claimId'),
    body: definition.body,
    response: claimSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answerClaim(await stepClaim(context, params.claimId, definition.step(body))),
  });
}

export const claimRoutes: readonly Route[] = [
  act({
    operationId: 'openClaim',
    summary: 'Claim a part from its maker that was put in under the maker’s warranty',
    tag: 'claims',
    method: 'POST',
    path: '/v1/part-uses/:partUseId/claim',
    access: office,
    params: idParam('partUseId'),
    response: claimSchema,
    status: 201,
    problems: ['already-exists', 'not-allowed-now'],
    handle: async (context, { params }) => {
      const id = await openClaim(context, params.partUseId);
      return { ...answerClaim(await claimOf(context.tx, id)), location: `/v1/claims/${id}` };
    },
  }),
  read({
    operationId: 'listClaims',
    summary: 'Claims, oldest or newest first',
    tag: 'claims',
    path: '/v1/claims',
    access: office,
    query: z.strictObject({
      ...pageQuery,
      ...orderQuery,
      state: oneOrMore(claimStateSchema).optional(),
    }),
    response: pageOf(claimSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query: { limit, cursor, order, state } }) => {
      const filter = { list: 'claims', order, state };
      const { where, orderBy } = readOn(order, startAfter(cursor, filter));
      const rows = await prisma.warrantyClaim.findMany({
        where: { AND: [where, state ? { state: { is: { state: { in: state } } } } : {}] },
        include: wholeClaim,
        orderBy,
        take: limit + 1,
      });
      return { body: cutPage(rows.map(claimBody), limit, filter) };
    },
  }),
  read({
    operationId: 'getClaim',
    summary: 'One claim',
    tag: 'claims',
    path: '/v1/claims/:claimId',
    access: office,
    params: idParam('claimId'),
    response: claimSchema,
    versioned: true,
    handle: async ({ prisma }, { params }) => answerClaim(await claimOf(prisma, params.claimId)),
  }),
  step({
    operationId: 'sendClaim',
    verb: 'send',
    summary: 'The claim was sent, with its registration and what became of the old part',
    body: claimSendSchema,
    step: (body) => ({ action: 'send', ...body }),
  }),
  step({
    operationId: 'withdrawClaim',
    verb: 'withdraw',
    summary: 'The claim was opened by mistake, and is not sent',
    body: claimWithdrawalSchema,
    step: (body) => ({ action: 'withdraw', ...body }),
  }),
  step({
    operationId: 'creditClaim',
    verb: 'credit',
    summary: 'The maker has credited it',
    body: claimCreditSchema,
    step: (body) => ({ action: 'credit', ...body }),
  }),
  step({
    operationId: 'refuseClaim',
    verb: 'refuse',
    summary: 'The maker has refused it',
    body: claimRefusalSchema,
    step: (body) => ({ action: 'refuse', ...body }),
  }),
];
