import { idParam } from '../platform/http/formats.ts';
import { act, type Route } from '../platform/http/route.ts';
import { erasingSchema, erasureSchema } from './contract.ts';
import { erasePerson } from './erase-person.ts';

export const erasingRoutes: readonly Route[] = [
  act({
    operationId: 'eraseCustomer',
    summary: 'Erase a person for good',
    description:
      'Overwrites what is personal and keeps what law and bookkeeping need; the answer says what ' +
      'went, what stays and why. It cannot be undone. Refused while a ticket, money, a bill, a ' +
      'right to cancel, an agreement or a paper under way is still open: `reasons` names each.',
    tag: 'customers',
    method: 'POST',
    path: '/v1/customers/:customerId/erase',
    access: ['owner'],
    params: idParam('customerId'),
    body: erasingSchema,
    response: erasureSchema,
    problems: ['not-allowed-now'],
    ifMatch: true,
    handle: async (context, { params, body }) => ({
      body: await erasePerson(context, params.customerId, body),
    }),
  }),
];
