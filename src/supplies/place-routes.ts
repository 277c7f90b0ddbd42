import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import { cutPage, pageOf, pageQuery, readOn, startAfter } from '../platform/http/page.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { addPlace } from './add-place.ts';
import { answerPlace, listedPlace, withShortage } from './answer-place.ts';
import { changePlace } from './change-place.ts';
import { listedPlaceSchema, newPlaceSchema, placeChangeSchema, placeSchema } from './contract.ts';
import { ownPlaces, placeOf } from './place-of.ts';

const office = ['dispatcher', 'owner'] as const;

export const placeRoutes: readonly Route[] = [
  act({
    operationId: 'addStockPlace',
    summary: 'Add a place where stock is kept: shelves, or a truck',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places',
    access: office,
    body: newPlaceSchema,
    response: placeSchema,
    status: 201,
    problems: ['already-exists', 'unknown-reference'],
    handle: async (context, { body }) => {
      const place = await addPlace(context, body);
      return { ...answerPlace(place), location: `/v1/stock-places/${place.id}` };
    },
  }),
  read({
    operationId: 'listStockPlaces',
    summary: 'Where stock is kept, oldest first; a technician sees the own truck only',
    tag: 'supplies',
    path: '/v1/stock-places',
    access: anyStaff,
    query: z.strictObject(pageQuery),
    response: pageOf(listedPlaceSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma, actor }, { query: { limit, cursor } }) => {
      const filter = { list: 'stock-places' };
      const { where, orderBy } = readOn('oldest', startAfter(cursor, filter));
      const rows = await prisma.stockPlace.findMany({
        where: { ...where, ...ownPlaces(actor) },
        include: withShortage,
        orderBy,
        take: limit + 1,
      });
      return { body: cutPage(rows.map(listedPlace), limit, filter) };
    },
  }),
  read({
    operationId: 'getStockPlace',
    summary: 'One place; a technician the own truck only',
    tag: 'supplies',
    path: '/v1/stock-places/:placeId',
    access: anyStaff,
    params: idParam('placeId'),
    response: placeSchema,
    versioned: true,
    handle: async (context, { params }) =>
      answerPlace(await placeOf(context.prisma, context, params.placeId)),
  }),
  act({
    operationId: 'changeStockPlace',
    summary: 'Rename a place, or give a truck to another technician',
    tag: 'supplies',
    method: 'PATCH',
    path: '/v1/stock-places/:placeId',
    access: office,
    params: idParam('placeId'),
    body: placeChangeSchema,
    response: placeSchema,
    ifMatch: true,
    problems: ['already-exists', 'unknown-reference'],
    handle: async (context, { params, body }) =>
      answerPlace(await changePlace(context, params.placeId, body)),
  }),
];
