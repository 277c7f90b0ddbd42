import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import {
  callerSearchQuery,
  callersSchema,
  glanceSchema,
  newCallSchema,
  takenCallSchema,
} from './contract.ts';
import { findCallers } from './find-callers.ts';
import { glanceAt } from './glance-at.ts';
import { takeCall } from './take-call.ts';

export const callRoutes: readonly Route[] = [
  read({
    operationId: 'findCallers',
    summary: 'Who may be calling: by phone, name or street, typing mistakes forgiven, best first',
    tag: 'calls',
    path: '/v1/callers',
    access: ['dispatcher', 'owner'],
    query: callerSearchQuery,
    response: callersSchema,
    handle: async ({ sql }, { query }) => ({
      body: { items: await findCallers(sql, query.search) },
    }),
  }),
  read({
    operationId: 'glanceAtSite',
    summary: 'A site at a glance: its people, machines, agreement, and what is open and was done',
    description: 'A technician sees own sites only.',
    tag: 'calls',
    path: '/v1/sites/:siteId/at-a-glance',
    access: anyStaff,
    params: idParam('siteId'),
    response: glanceSchema,
    problems: ['no-price-book'],
    handle: async (context, { params }) => ({ body: await glanceAt(context, params.siteId) }),
  }),
  act({
    operationId: 'takeCall',
    summary: 'Take a call: the caller and the site where they are new, and the ticket, in one act',
    description:
      'A new caller whose phone number is known, or a new site at a known address, is refused with ' +
      'who that is, unless it is to be made anyway.',
    tag: 'calls',
    method: 'POST',
    path: '/v1/calls',
    access: ['dispatcher', 'owner'],
    body: newCallSchema,
    response: takenCallSchema,
    status: 201,
    problems: ['unknown-reference', 'already-exists'],
    handle: async (context, { body }) => takeCall(context, body),
  }),
];
