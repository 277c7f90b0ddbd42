import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { calendarFeedSchema, madeCalendarFeedSchema } from './contract.ts';
import { listFeeds } from './list-feeds.ts';
import { makeFeed } from './make-feed.ts';
import { revokeFeed } from './revoke-feed.ts';

export const calendarRoutes: readonly Route[] = [
  act({
    operationId: 'makeCalendarFeed',
    summary: 'Make an address at which a calendar reads a technician’s visits; it is told once',
    description:
      'A calendar (RFC 5545) of two weeks back and ninety days ahead: when, where, ticket number and ' +
      'arrival window, and whether to call the office before going in. Names, phones, notes on access ' +
      'and dangers are not in it. A technician makes own ones.',
    tag: 'calendars',
    method: 'POST',
    path: '/v1/technicians/:technicianId/calendar-feeds',
    access: anyStaff,
    params: idParam('technicianId'),
    response: madeCalendarFeedSchema,
    status: 201,
    repeated: (body) => ({ ...body, url: null }),
    handle: async (context, { params }) => ({
      body: await makeFeed(context, params.technicianId),
    }),
  }),
  read({
    operationId: 'listCalendarFeeds',
    summary: 'The calendars of a technician, newest first, without their addresses',
    tag: 'calendars',
    path: '/v1/technicians/:technicianId/calendar-feeds',
    access: anyStaff,
    params: idParam('technicianId'),
    response: z.strictObject({ items: z.array(calendarFeedSchema) }),
    handle: async (context, { params }) => ({
      body: { items: await listFeeds(context, params.technicianId) },
    }),
  }),
  act({
    operationId: 'revokeCalendarFeed',
    summary: 'Make the address of a calendar worthless: a device was lost, or somebody left',
    tag: 'calendars',
    method: 'POST',
    path: '/v1/calendar-feeds/:feedId/revoke',
    access: anyStaff,
    params: idParam('feedId'),
    response: calendarFeedSchema,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) => ({ body: await revokeFeed(context, params.feedId) }),
  }),
];
