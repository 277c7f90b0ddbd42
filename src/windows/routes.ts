import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { type Route, read } from '../platform/http/route.ts';
import {
  runningLateQuerySchema,
  runningLateSchema,
  ticketWindowsSchema,
  windowsQuerySchema,
} from './contract.ts';
import { findWindows } from './find-windows.ts';
import { runningLate } from './running-late.ts';

export const windowRoutes: readonly Route[] = [
  read({
    operationId: 'findWindows',
    summary: 'The best arrival windows for a ticket, each with its fee and what speaks for it',
    description:
      'Each can be booked as it is told, unless somebody is faster: technician, window, planned ' +
      'work, and the fee with what the agreement leaves of it.',
    tag: 'windows',
    path: '/v1/tickets/:ticketId/windows',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    query: windowsQuerySchema,
    response: ticketWindowsSchema,
    problems: ['not-allowed-now', 'no-price-book'],
    handle: async (context, { params, query }) => ({
      body: await findWindows(context, params.ticketId, query),
    }),
  }),
  read({
    operationId: 'getRunningLate',
    summary: 'Who is affected when a visit runs over, with a message for each household',
    description: 'Nothing is sent and no fee changes. A technician asks for own visits only.',
    tag: 'windows',
    path: '/v1/visits/:visitId/running-late',
    access: anyStaff,
    params: idParam('visitId'),
    query: runningLateQuerySchema,
    response: runningLateSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params, query }) => ({
      body: await runningLate(context, params.visitId, query.minutes),
    }),
  }),
];
