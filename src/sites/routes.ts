import type { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import type { Site } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { idParam } from '../platform/http/formats.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { addSite } from './add-site.ts';
import { addSystem } from './add-system.ts';
import { newSiteSchema, newSystemSchema, siteSchema, systemSchema } from './contract.ts';

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
      return {
        body: toBody(site, []),
        etag: versionTag(site.version),
        location: `/v1/sites/${site.id}`,
      };
    },
  }),
  read({
    operationId: 'getSite',
    summary: 'One site with its systems',
    tag: 'sites',
    path: '/v1/sites/:siteId',
    access: anyStaff,
    params: idParam('siteId'),
    response: siteSchema,
    versioned: true,
    handle: async ({ prisma }, { params }) => {
      const site = await prisma.site.findUnique({
        where: { id: params.siteId },
        include: { systems: { select: { id: true, name: true }, orderBy: { id: 'asc' } } },
      });
      if (site === null) throw notFound('site');
      return { body: toBody(site, site.systems), etag: versionTag(site.version) };
    },
  }),
  act({
    operationId: 'addSystem',
    summary: 'Add a system to a site',
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

function toBody(site: Site, systems: { id: string; name: string }[]): z.input<typeof siteSchema> {
  return {
    id: site.id,
    street: site.street,
    unit: site.unit,
    city: site.city,
    region: site.region,
    postalCode: site.postalCode,
    jurisdiction: site.jurisdiction,
    accessNotes: site.accessNotes,
    occupantId: site.occupantId,
    approverId: site.approverId,
    approverLimitCents: site.approverLimitCents,
    payerId: site.payerId,
    version: site.version,
    createdAt: site.createdAt.toISOString(),
    systems,
  };
}
