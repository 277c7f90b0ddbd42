import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, readOn, startAfter } from '../platform/http/page.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { bookInForce } from '../pricebook/index.ts';
import { ownSites } from '../staff/index.ts';
import { addAgreement } from './add-agreement.ts';
import { agreementOf } from './agreement-of.ts';
import { agreementBody, answerAgreement } from './answer-agreement.ts';
import {
  agreementEndSchema,
  agreementPlansSchema,
  newAgreementSchema,
  siteAgreementSchema,
} from './contract.ts';
import { endAgreement } from './end-agreement.ts';

export const agreementRoutes: readonly Route[] = [
  read({
    operationId: 'listAgreementPlans',
    summary: 'The maintenance agreements that the price book in force offers, with what they give',
    description: 'For whoever sells them: a technician puts no site under an agreement.',
    tag: 'agreements',
    path: '/v1/agreement-plans',
    access: ['dispatcher', 'owner'],
    response: agreementPlansSchema,
    problems: ['no-price-book'],
    handle: async ({ prisma, now }) => {
      const { agreements } = await bookInForce(prisma, now);
      return { body: { items: agreements } };
    },
  }),
  act({
    operationId: 'addAgreement',
    summary: 'Put a site under a maintenance agreement',
    description: 'A site has one agreement on a day. Its discounts are those of the price book.',
    tag: 'agreements',
    method: 'POST',
    path: '/v1/sites/:siteId/agreements',
    access: ['dispatcher', 'owner'],
    params: idParam('siteId'),
    body: newAgreementSchema,
    response: siteAgreementSchema,
    status: 201,
    problems: ['unknown-reference', 'agreement-overlaps', 'no-price-book'],
    handle: async (context, { params, body }) => {
      const agreement = await addAgreement(context, params.siteId, body);
      return { ...answerAgreement(agreement), location: `/v1/agreements/${agreement.id}` };
    },
  }),
  read({
    operationId: 'listAgreements',
    summary: 'The agreements of a site, oldest first; a technician sees those of own sites only',
    tag: 'agreements',
    path: '/v1/sites/:siteId/agreements',
    access: anyStaff,
    params: idParam('siteId'),
    query: z.strictObject(pageQuery),
    response: pageOf(siteAgreementSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma, actor }, { params: { siteId }, query: { limit, cursor } }) => {
      const filter = { list: 'agreements', siteId };
      const { where, orderBy } = readOn('oldest', startAfter(cursor, filter));
      const site = await prisma.site.findUnique({
        where: { id: siteId, AND: ownSites(actor) },
        select: { agreements: { where, orderBy, take: limit + 1 } },
      });
      if (site === null) throw notFound('site');
      return { body: cutPage(site.agreements.map(agreementBody), limit, filter) };
    },
  }),
  read({
    operationId: 'getAgreement',
    summary: 'One agreement; a technician sees those of own sites only',
    tag: 'agreements',
    path: '/v1/agreements/:agreementId',
    access: anyStaff,
    params: idParam('agreementId'),
    response: siteAgreementSchema,
    versioned: true,
    handle: async ({ prisma, actor }, { params }) =>
      answerAgreement(await agreementOf(prisma, actor, params.agreementId)),
  }),
  act({
    operationId: 'endAgreement',
    summary: 'End an agreement earlier than agreed, not before its start',
    description: 'What was quoted under it keeps the discount it was quoted with.',
    tag: 'agreements',
    method: 'POST',
    path: '/v1/agreements/:agreementId/end',
    access: ['dispatcher', 'owner'],
    params: idParam('agreementId'),
    body: agreementEndSchema,
    response: siteAgreementSchema,
    ifMatch: true,
    handle: async (context, { params, body }) =>
      answerAgreement(await endAgreement(context, params.agreementId, body.endsOn)),
  }),
];
