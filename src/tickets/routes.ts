import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam, oneOrMore } from '../platform/http/formats.ts';
import {
  cutPage,
  orderQuery,
  pageOf,
  pageQuery,
  readOn,
  startAfter,
} from '../platform/http/page.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { ownSites } from '../staff/index.ts';
import { answerTicket, ticketBody } from './answer-ticket.ts';
import { cancelTicket } from './cancel-ticket.ts';
import {
  cancellationSchema,
  newTicketSchema,
  openedTicketSchema,
  phoneResolutionSchema,
  ticketSchema,
  ticketStateSchema,
} from './contract.ts';
import { callbacksAmong } from './last-closing.ts';
import { openTicket } from './open-ticket.ts';
import { recentWorkOf } from './recent-work-of.ts';
import { resolveByPhone } from './resolve-by-phone.ts';

export const ticketRoutes: readonly Route[] = [
  act({
    operationId: 'openTicket',
    summary: 'Open a ticket from a call',
    description:
      'Warns of what was done not long ago for the same trouble: that reopens as a callback.',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets',
    access: ['dispatcher', 'owner'],
    body: newTicketSchema,
    response: openedTicketSchema,
    status: 201,
    problems: ['unknown-reference'],
    handle: async (context, { body }) => {
      const ticket = await openTicket(context, body);
      const opened = await answerTicket(context.tx, ticket);
      const recentWork = await recentWorkOf(context, ticket);
      const location = `/v1/tickets/${ticket.id}`;
      return { ...opened, body: { ...opened.body, recentWork }, location };
    },
  }),
  read({
    operationId: 'listTickets',
    summary: 'Tickets, oldest or newest first; a technician sees those of own sites only',
    tag: 'tickets',
    path: '/v1/tickets',
    access: anyStaff,
    query: z.strictObject({
      ...pageQuery,
      ...orderQuery,
      state: oneOrMore(ticketStateSchema).optional(),
      siteId: z.uuid().optional(),
      number: z.coerce.number().int().min(1).max(2_147_483_647).optional().meta({
        description: 'The number people say on the phone.',
      }),
    }),
    response: pageOf(ticketSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma, actor }, { query }) => {
      const { limit, cursor, ...chosen } = query;
      const filter = { list: 'tickets', ...chosen };
      const { where, orderBy } = readOn(query.order, startAfter(cursor, filter));
      const rows = await prisma.ticket.findMany({
        where: {
          ...(query.state && { state: { in: query.state } }),
          site: ownSites(actor),
          ...(query.siteId && { siteId: query.siteId }),
          ...(query.number && { number: query.number }),
          ...where,
        },
        orderBy,
        take: limit + 1,
      });
      const callbacks = await callbacksAmong(
        prisma,
        rows.map(({ id }) => id),
      );
      return {
        body: cutPage(
          rows.map((row) => ticketBody(row, callbacks)),
          limit,
          filter,
        ),
      };
    },
  }),
  read({
    operationId: 'getTicket',
    summary: 'One ticket; a technician sees those of own sites only',
    tag: 'tickets',
    path: '/v1/tickets/:ticketId',
    access: anyStaff,
    params: idParam('ticketId'),
    response: ticketSchema,
    versioned: true,
    handle: async ({ prisma, actor }, { params }) => {
      const ticket = await prisma.ticket.findUnique({
        where: { id: params.ticketId, site: ownSites(actor) },
      });
      if (ticket === null) throw notFound('ticket');
      return answerTicket(prisma, ticket);
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
      answerTicket(context.tx, await resolveByPhone(context, params.ticketId, body)),
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
      answerTicket(context.tx, await cancelTicket(context, params.ticketId, body.reason)),
  }),
];
