import { z } from 'zod';
import { idParam } from '../platform/http/formats.ts';
import { pageOf, pageQuery } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { partPromiseSchema, partWaitSchema, promisedPartSchema } from './contract.ts';
import { listPartWaits } from './list-part-waits.ts';
import { promisePart } from './promise-part.ts';
import { promiseBody } from './record-part-wait.ts';

export const partWaitRoutes: readonly Route[] = [
  act({
    operationId: 'promisePart',
    summary: 'A new day that the customer was told for a part',
    description: 'Only while the ticket waits for a part. It gives the ticket a new version.',
    tag: 'tickets',
    method: 'POST',
    path: '/v1/tickets/:ticketId/promise-part',
    access: ['dispatcher', 'owner'],
    params: idParam('ticketId'),
    body: partPromiseSchema,
    response: promisedPartSchema,
    ifMatch: true,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: promiseBody(await promisePart(context, params.ticketId, body)),
    }),
  }),
  read({
    operationId: 'listPartWaits',
    summary: 'Tickets that wait for a part, soonest promised day first',
    tag: 'tickets',
    path: '/v1/part-waits',
    access: ['dispatcher', 'owner'],
    query: z.strictObject(pageQuery),
    response: pageOf(partWaitSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { query }) => ({ body: await listPartWaits(context, query) }),
  }),
];
