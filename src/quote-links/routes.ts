import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { linkSchema, madeLinkSchema, newLinkSchema } from './contract.ts';
import { listLinks } from './list-links.ts';
import { makeLink } from './make-link.ts';
import { revokeLink } from './revoke-link.ts';

export const quoteLinkRoutes: readonly Route[] = [
  act({
    operationId: 'makeQuoteLink',
    summary: 'Make the link at which the customer reads and answers an issued quote',
    description:
      'It opens for 30 days, longer than the quote stands, and for a year once it is answered. Who ' +
      'is the site’s approver or payer now can answer there, as long as they are. A new link for ' +
      'the same person takes the place of the old one. The address is told in this answer alone; ' +
      'the payer’s is made by a dispatcher or the owner.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quotes/:quoteId/links',
    access: anyStaff,
    params: idParam('quoteId'),
    body: newLinkSchema,
    response: madeLinkSchema,
    status: 201,
    problems: ['not-allowed-now'],
    repeated: (body) => ({ ...body, url: null, text: null }),
    handle: async (context, { params, body }) => ({
      body: await makeLink(context, params.quoteId, body.holder),
    }),
  }),
  read({
    operationId: 'listQuoteLinks',
    summary: 'The links of a quote, newest first, without their addresses',
    tag: 'quotes',
    path: '/v1/quotes/:quoteId/links',
    access: anyStaff,
    params: idParam('quoteId'),
    response: z.strictObject({ items: z.array(linkSchema) }),
    handle: async (context, { params }) => ({
      body: { items: await listLinks(context, params.quoteId) },
    }),
  }),
  act({
    operationId: 'revokeQuoteLink',
    summary: 'Make a link worthless that got lost or into the wrong hands',
    description:
      'Also one that went out by itself, to an address that turned out to be mistyped: the listed ' +
      'links say for which delivery each was made.',
    tag: 'quotes',
    method: 'POST',
    path: '/v1/quote-links/:linkId/revoke',
    access: anyStaff,
    params: idParam('linkId'),
    response: linkSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({ body: await revokeLink(context, params.linkId) }),
  }),
];
