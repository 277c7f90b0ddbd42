import { z } from 'zod';
import { type Access, anyStaff } from '../platform/access/actor.ts';
import { idParam, oneOrMore } from '../platform/http/formats.ts';
import {
  cutPage,
  orderQuery,
  pageOf,
  pageQuery,
  readOn,
  startAfter,
} from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { askDelivery } from './ask-delivery.ts';
import { deliverySchema, deliveryStateSchema, newDeliverySchema } from './contract.ts';
import { answerDelivery, deliveryBodies, deliveryOf, wholeDelivery } from './delivery-body.ts';
import { retryDelivery } from './retry-delivery.ts';

const office: Access = ['dispatcher', 'owner'];

export const deliveryRoutes: readonly Route[] = [
  act({
    operationId: 'askDelivery',
    summary: 'Send a paper to one of the people of its site, once more or for the first time',
    description:
      'It goes into the outbox and is sent within moments. What was issued goes out by itself to ' +
      'whoever of the people has a mail address; this is for everything else.',
    tag: 'deliveries',
    method: 'POST',
    path: '/v1/papers/:paperId/deliveries',
    access: anyStaff,
    params: idParam('paperId'),
    body: newDeliverySchema,
    response: deliverySchema,
    status: 201,
    problems: ['not-allowed-now'],
    handle: async (context, { params, body }) => {
      const id = await askDelivery(context, params.paperId, body);
      const answer = await answerDelivery(context.tx, await deliveryOf(context.tx, id));
      return { ...answer, location: `/v1/deliveries/${id}` };
    },
  }),
  read({
    operationId: 'listDeliveries',
    summary: 'What was sent to whom, what waits, and what is dead',
    tag: 'deliveries',
    path: '/v1/deliveries',
    access: office,
    query: z.strictObject({
      ...pageQuery,
      ...orderQuery,
      state: oneOrMore(deliveryStateSchema).optional(),
    }),
    response: pageOf(deliverySchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query: { limit, cursor, order, state } }) => {
      const filter = { list: 'deliveries', order, state };
      const { where, orderBy } = readOn(order, startAfter(cursor, filter));
      const rows = await prisma.delivery.findMany({
        where: { AND: [where, state ? { state: { is: { state: { in: state } } } } : {}] },
        include: wholeDelivery,
        orderBy,
        take: limit + 1,
      });
      return { body: cutPage(await deliveryBodies(prisma, rows), limit, filter) };
    },
  }),
  read({
    operationId: 'getDelivery',
    summary: 'How far a delivery has come',
    tag: 'deliveries',
    path: '/v1/deliveries/:deliveryId',
    access: office,
    params: idParam('deliveryId'),
    response: deliverySchema,
    versioned: true,
    handle: async ({ prisma }, { params }) =>
      answerDelivery(prisma, await deliveryOf(prisma, params.deliveryId)),
  }),
  act({
    operationId: 'retryDelivery',
    summary: 'Try a dead delivery again',
    description:
      'Where `mayHaveArrived` is true, ask first: the customer may have it. The mail keeps its ' +
      'Message-ID. A text that may have arrived is not tried again but asked for anew.',
    tag: 'deliveries',
    method: 'POST',
    path: '/v1/deliveries/:deliveryId/retry',
    access: office,
    params: idParam('deliveryId'),
    response: deliverySchema,
    ifMatch: true,
    problems: ['not-allowed-now'],
    handle: async (context, { params }) =>
      answerDelivery(context.tx, await retryDelivery(context, params.deliveryId)),
  }),
];
