import { anyStaff } from '../platform/access/actor.ts';
import { sqlOf } from '../platform/database/database.ts';
import { idParam } from '../platform/http/formats.ts';
import { pageOf } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { answerOpened } from './answer-opened.ts';
import { answerTicket } from './answer-ticket.ts';
import { cancelTicket } from './cancel-ticket.ts';
import {
  cancellationSchema,
  newTicketSchema,
  openedTicketSchema,
  phoneResolutionSchema,
  ticketSchema,
} from './contract.ts';
import { listTickets, ticketListQuery } from './list-tickets.ts';
import { openTicket } from './open-ticket.ts';
import { resolveByPhone } from './resolve-by-phone.ts';
import { ticketOf } from './ticket-of.ts';

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
    handle: async (context, { body }) => answerOpened(context, await openTicket(context, body)),
  }),
  read({
    operationId: 'listTickets',
    summary: 'Tickets, oldest or newest first; a technician sees those of own sites only',
    tag: 'tickets',
    path: '/v1/tickets',
    access: anyStaff,
    query: ticketListQuery,
    response: pageOf(ticketSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listTickets(context, query) }),
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
    handle: async (context, { params }) =>
      answerTicket(context.sql, await ticketOf(context.prisma, context, params.ticketId)),
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
      answerTicket(sqlOf(context.tx), await resolveByPhone(context, params.ticketId, body)),
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
      answerTicket(sqlOf(context.tx), await cancelTicket(context, params.ticketId, body.reason)),
  }),
];
