import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { versionTag } from '../platform/http/etag.ts';
import { idParam, text } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, startAfter } from '../platform/http/page.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { ownCustomers } from '../staff/index.ts';
import { addCustomer } from './add-customer.ts';
import { changeCustomer } from './change-customer.ts';
import { customerChangeSchema, customerSchema, newCustomerSchema } from './contract.ts';
import { type FoundCustomer, findCustomers } from './find-customers.ts';

export const customerRoutes: readonly Route[] = [
  act({
    operationId: 'addCustomer',
    summary: 'Add a customer',
    tag: 'customers',
    method: 'POST',
    path: '/v1/customers',
    access: ['dispatcher', 'owner'],
    body: newCustomerSchema,
    response: customerSchema,
    status: 201,
    handle: async (context, { body }) => {
      const customer = await addCustomer(context, body);
      return answer(customer, `/v1/customers/${customer.id}`);
    },
  }),
  read({
    operationId: 'findCustomers',
    summary: 'Find customers by name or phone',
    tag: 'customers',
    path: '/v1/customers',
    access: ['dispatcher', 'owner'],
    query: z.strictObject({
      ...pageQuery,
      search: text(100).min(2).optional().meta({
        description:
          'Part of a name or phone number. Accents and two letters in the wrong order do not matter, nor, when no name has it, a small typing mistake in a longer name.',
      }),
    }),
    response: pageOf(customerSchema),
    problems: ['cursor-invalid'],
    handle: async ({ sql }, { query }) => {
      const filter = { list: 'customers', search: query.search };
      const after = startAfter(query.cursor, filter);
      const rows = await findCustomers(sql, { ...filter, after, limit: query.limit + 1 });
      return { body: cutPage(rows.map(toBody), query.limit, filter) };
    },
  }),
  read({
    operationId: 'getCustomer',
    summary: 'One customer; a technician sees the people of own sites only',
    tag: 'customers',
    path: '/v1/customers/:customerId',
    access: anyStaff,
    params: idParam('customerId'),
    response: customerSchema,
    versioned: true,
    handle: async ({ prisma, actor }, { params }) => {
      const customer = await prisma.customer.findUnique({
        where: { id: params.customerId, AND: ownCustomers(actor) },
      });
      if (customer === null) throw notFound('customer');
      return answer(customer);
    },
  }),
  act({
    operationId: 'changeCustomer',
    summary: 'Change a customer',
    tag: 'customers',
    method: 'PATCH',
    path: '/v1/customers/:customerId',
    access: ['dispatcher', 'owner'],
    params: idParam('customerId'),
    body: customerChangeSchema,
    response: customerSchema,
    problems: ['not-allowed-now'],
    ifMatch: true,
    handle: async (context, { params, body }) =>
      answer(await changeCustomer(context, params.customerId, body)),
  }),
];

type Row = Omit<FoundCustomer, 'language'> & { language: string };

function answer(row: Row, location?: string) {
  return {
    body: toBody(row),
    etag: versionTag(row.version),
    ...(location !== undefined && { location }),
  };
}

function toBody(row: Row): z.input<typeof customerSchema> {
  return {
    id: row.id,
    name: row.name,
    phone: row.phone,
    email: row.email,
    language: row.language === 'es' ? 'es' : 'en',
    version: row.version,
    createdAt: row.createdAt.toISOString(),
  };
}
