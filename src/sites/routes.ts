import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, readOn, startAfter } from '../platform/http/page.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { addSite } from './add-site.ts';
import { addSystem } from './add-system.ts';
import { answerSite, siteBody, withMachines } from './answer-site.ts';
import { changeSite } from './change-site.ts';
import {
  newSiteSchema,
  newSystemSchema,
  siteChangeSchema,
  siteSchema,
  systemSchema,
} from './contract.ts';

export const siteRoutes: readonly Route[] = [
  act({
    operationId: 'addSite',
    summary: 'Add a site: where the equipment is',
    tag: 'sites',
    method: 'POST',
    path: '/v1/sites',
    access: ['dispatcher', 'owner'],
    body: newSiteSchema,
    response: siteSchema,
    status: 201,
    problems: ['unknown-reference'],
    handle: async (context, { body }) => {
      const site = await addSite(context, body);
      return { ...answerSite(site), location: `/v1/sites/${site.id}` };
    },
  }),
  read({
    operationId: 'listSites',
    summary: 'Sites, oldest first; of one customer, whether occupant, approver or payer',
    tag: 'sites',
    path: '/v1/sites',
    access: ['dispatcher', 'owner'],
    query: z.strictObject({ ...pageQuery, customerId: z.uuid().optional() }),
    response: pageOf(siteSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query }) => {
      const { limit, cursor, customerId } = query;
      const filter = { list: 'sites', customerId };
      const { where, orderBy } = readOn('oldest', startAfter(cursor, filter));
      const rows = await prisma.site.findMany({
        where: {
          ...where,
          ...(customerId && {
            OR: [{ occupantId: customerId }, { approverId: customerId }, { payerId: customerId }],
          }),
        },
        include: withMachines,
        orderBy,
        take: limit + 1,
      });
      return { body: cutPage(rows.map(siteBody), limit, filter) };
    },
  }),
  read({
    operationId: 'getSite',
    summary: 'One site with its systems and their machines; a technician sees own ones only',
    tag: 'sites',
    path: '/v1/sites/:siteId',
    access: anyStaff,
    params: idParam('siteId'),
    response: siteSchema,
    versioned: true,
    handle: async ({ prisma, actor }, { params }) => {
      const site = await prisma.site.findUnique({
        where: { id: params.siteId, AND: ownSites(actor) },
        include: withMachines,
      });
      if (site === null) throw notFound('site');
      return answerSite(site);
    },
  }),
  act({
    operationId: 'changeSite',
    summary: 'Change a site: address, way in, altitude, approver, payer, jurisdiction',
    tag: 'sites',
    method: 'PATCH',
    path: '/v1/sites/:siteId',
    access: ['dispatcher', 'owner'],
    params: idParam('siteId'),
    body: siteChangeSchema,
    response: siteSchema,
    ifMatch: true,
    problems: ['unknown-reference'],
    handle: async (context, { params, body }) =>
      answerSite(await changeSite(context, params.siteId, body)),
  }),
  act({
    operationId: 'addSystem',
    summary: 'Add a system to a site; a technician to own ones only',
    tag: 'sites',
    method: 'POST',
    path: '/v1/sites/:siteId/systems',
    access: anyStaff,
    params: idParam('siteId'),
    body: newSystemSchema,
    response: systemSchema,
    status: 201,
    problems: ['already-exists'],
    handle: async (context, { params, body }) => {
      const system = await addSystem(context, params.siteId, body.name);
      return { body: { ...system, createdAt: system.createdAt.toISOString() } };
    },
  }),
];
