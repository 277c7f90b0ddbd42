import { z } from 'zod';
import { allowedActions, ticketLifecycle } from '../lifecycles/index.ts';
import { anyStaff } from '../platform/access/actor.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { idParam } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { cancelTicket } from './cancel-ticket.ts';
import {
  cancellationSchema,
  newTicketSchema,
  phoneResolutionSchema,
  ticketSchema,
  ticketStateSchema,
} from './contract.ts';
import { openTicket } from './open-ticket.ts';
import { resolveByPhone } from './resolve-by-phone.ts';

export const ticketRoutes: readonly Route[] = [
  act({
    operationId: 'openTicket',
    summary: 'Open a ticket from a call',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets',
    access: ['dispatcher', 'owner'],
    body: newTicketSchema,
    response: ticketSchema,
    status: 201,
    problems: ['unknown-reference'],
    handle: async (context, { body }) => {
      const ticket = await openTicket(context, body);
      return { ...answer(ticket), location: `/v1/tickets/${ticket.id}` };
    },
  }),
  read({
    operationId: 'listTickets',
    summary: 'Tickets, oldest first',
    tag: 'tickets',
    path: '/v1/tickets',
    access: anyStaff,
    query: z.strictObject({
      ...pageQuery,
      state: ticketStateSchema.optional(),
      siteId: z.uuid().optional(),
    }),
    response: pageOf(ticketSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query }) => {
      const filter = { list: 'tickets', state: query.state, siteId: query.siteId };
      const after = startAfter(query.cursor, filter);
      const rows = await prisma.ticket.findMany({
        where: {
          ...(query.state && { state: query.state }),
          ...(query.siteId && { siteId: query.siteId }),
          ...(after && { id: { gt: after } }),
        },
        orderBy: { id: 'asc' },
        take: query.limit + 1,
      });
      return { body: cutPage(rows.map(toBody), query.limit, filter) };
    },
  }),
  read({
    operationId: 'getTicket',
    summary: 'One ticket',
    tag: 'tickets',
    path: '/v1/tickets/:ticketId',
    access: anyStaff,
    params: idParam('ticketId'),
    response: ticketSchema,
    versioned: true,
    handle: async ({ prisma }, { params }) => {
      const ticket = await prisma.ticket.findUnique({ where: { id: params.ticketId } });
      if (ticket === null) throw notFound('ticket');
      return answer(ticket);
    },
  }),
  act({
    operationId: 'resolveTicketByPhone',
    summary: 'End a ticket that a safe check on the phone has solved, at no charge',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets/:ticketId/resolve-by-phone',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    body: phoneResolutionSchema,
    response: ticketSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answer(await resolveByPhone(context, params.ticketId, body)),
  }),
  act({
    operationId: 'cancelTicket',
    summary: 'Cancel a ticket',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets/:ticketId/cancel',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    body: cancellationSchema,
    response: ticketSchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) =>
      answer(await cancelTicket(context, params.ticketId, body.reason)),
  }),
];

function answer(ticket: Ticket) {
  return { body: toBody(ticket), etag: versionTag(ticket.version) };
}

function toBody(ticket: Ticket): z.input<typeof ticketSchema> {
  const { createdById: _, createdAt, ...rest } = ticket;
  return {
    ...rest,
    createdAt: createdAt.toISOString(),
    allowedActions: allowedActions(ticketLifecycle, ticket.state),
  };
}
