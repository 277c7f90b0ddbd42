import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { idParam } from '../platform/http/formats.ts';
import {
  cutPage,
  cutPageByKey,
  orderQuery,
  pageOf,
  pageQuery,
  readOn,
  startAfter,
  startAfterKey,
} from '../platform/http/page.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { addTarget } from './add-target.ts';
import { moveBody } from './answer-move.ts';
import { answerTarget } from './answer-target.ts';
import { bringBackPart } from './bring-back-part.ts';
import { carryPart } from './carry-part.ts';
import { changeTarget } from './change-target.ts';
import {
  carriedSchema,
  carrySchema,
  countedSchema,
  countSchema,
  movedSchema,
  moveSchema,
  newTargetSchema,
  partCode,
  stockSchema,
  targetChangeSchema,
  targetSchema,
  useSchema,
} from './contract.ts';
import { countPart } from './count-part.ts';
import { endTarget } from './end-target.ts';
import { placeOf } from './place-of.ts';
import { stockAt } from './stock-at.ts';
import { usePart } from './use-part.ts';

const office = ['dispatcher', 'owner'] as const;
const targetParams = z.strictObject({ placeId: z.uuid(), partCode });

export const stockRoutes: readonly Route[] = [
  read({
    operationId: 'listStock',
    summary: 'What should lie at a place, by part code, with the targets there',
    description: 'A technician sees the own truck only. A level below zero wants a count.',
    tag: 'supplies',
    path: '/v1/stock-places/:placeId/stock',
    access: anyStaff,
    params: idParam('placeId'),
    query: z.strictObject({
      ...pageQuery,
      only: z.enum(['below_zero']).optional().meta({ description: 'Levels below zero.' }),
    }),
    response: pageOf(stockSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { params, query: { limit, cursor, only } }) => {
      const { id } = await placeOf(context.prisma, context, params.placeId);
      const filter = { list: 'stock', placeId: id, only };
      const stock = await stockAt(context.sql, id, {
        isBelowZero: only === 'below_zero',
        after: startAfterKey(cursor, filter, partCode),
        limit: limit + 1,
        now: context.now,
      });
      return { body: cutPageByKey(stock, limit, filter, (part) => part.partCode) };
    },
  }),
  read({
    operationId: 'listStockMoves',
    summary: 'What came to a place and what left it; a technician sees the own truck only',
    tag: 'supplies',
    path: '/v1/stock-places/:placeId/moves',
    access: anyStaff,
    params: idParam('placeId'),
    query: z.strictObject({ ...pageQuery, ...orderQuery, partCode: partCode.optional() }),
    response: pageOf(moveSchema),
    problems: ['cursor-invalid'],
    handle: async (context, { params, query }) => {
      const { limit, cursor, order } = query;
      const { id: placeId } = await placeOf(context.prisma, context, params.placeId);
      const filter = { list: 'stock-moves', placeId, order, partCode: query.partCode };
      const { where, orderBy } = readOn(order, startAfter(cursor, filter));
      const rows = await context.prisma.stockMove.findMany({
        where: {
          ...where,
          ...oneOnly(placeId),
          ...(query.partCode && { partCode: query.partCode }),
        },
        orderBy: [{ placeId: orderBy.id }, orderBy],
        take: limit + 1,
      });
      return { body: cutPage(rows.map(moveBody), limit, filter) };
    },
  }),
  act({
    operationId: 'usePart',
    summary: 'A part was used on a visit; a technician takes it from the own truck',
    description:
      'The level may fall below zero: the part was there, so an earlier count was wrong.',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places/:placeId/use',
    access: anyStaff,
    params: idParam('placeId'),
    body: useSchema,
    response: movedSchema,
    status: 201,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: await usePart(context, params.placeId, body),
    }),
  }),
  act({
    operationId: 'bringBackPart',
    summary: 'A part recorded as used on a visit came back unused',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places/:placeId/bring-back',
    access: anyStaff,
    params: idParam('placeId'),
    body: useSchema,
    response: movedSchema,
    status: 201,
    problems: ['not-allowed-now', 'unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: await bringBackPart(context, params.placeId, body),
    }),
  }),
  act({
    operationId: 'carryPart',
    summary: 'A part was carried to another place: both halves are recorded, or neither',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places/:placeId/carry',
    access: office,
    params: idParam('placeId'),
    body: carrySchema,
    response: carriedSchema,
    status: 201,
    problems: ['unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: await carryPart(context, params.placeId, body),
    }),
  }),
  act({
    operationId: 'countPart',
    summary: 'A part was counted; a difference becomes a move with its reason',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places/:placeId/count',
    access: anyStaff,
    params: idParam('placeId'),
    body: countSchema,
    response: countedSchema,
    status: 201,
    problems: ['unknown-reference'],
    handle: async (context, { params, body }) => ({
      body: await countPart(context, params.placeId, body),
    }),
  }),
  act({
    operationId: 'addStockTarget',
    summary: 'Say from which level on a part is ordered again for a place, and up to how many',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places/:placeId/targets',
    access: office,
    params: idParam('placeId'),
    body: newTargetSchema,
    response: targetSchema,
    status: 201,
    problems: ['already-exists', 'unknown-reference'],
    handle: async (context, { params, body }) => {
      const target = await addTarget(context, params.placeId, body);
      const location = `/v1/stock-places/${params.placeId}/targets/${target.partCode}`;
      return { ...answerTarget(target), location };
    },
  }),
  read({
    operationId: 'getStockTarget',
    summary: 'From which level on a part is ordered again for a place, and up to how many',
    tag: 'supplies',
    path: '/v1/stock-places/:placeId/targets/:partCode',
    access: anyStaff,
    params: targetParams,
    response: targetSchema,
    versioned: true,
    handle: async (context, { params }) => {
      await placeOf(context.prisma, context, params.placeId);
      const where = { placeId_partCode: params };
      const target = await context.prisma.stockTarget.findUnique({ where });
      if (target === null) throw notFound('target');
      return answerTarget(target);
    },
  }),
  act({
    operationId: 'changeStockTarget',
    summary: 'Change from which level on a part is ordered again, and up to how many',
    tag: 'supplies',
    method: 'PATCH',
    path: '/v1/stock-places/:placeId/targets/:partCode',
    access: office,
    params: targetParams,
    body: targetChangeSchema,
    response: targetSchema,
    ifMatch: true,
    problems: ['unknown-reference'],
    handle: async (context, { params, body }) =>
      answerTarget(await changeTarget(context, params, body)),
  }),
  act({
    operationId: 'endStockTarget',
    summary: 'End a target: the part is not ordered again for the place; what lies there stays',
    description: 'Answers with the target as it was. The part may be given a new one.',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/stock-places/:placeId/targets/:partCode/end',
    access: office,
    params: targetParams,
    response: targetSchema,
    ifMatch: true,
    handle: async (context, { params }) => answerTarget(await endTarget(context, params)),
  }),
];

/**
 * One place as the ends of a range. Told plainly that it is one, the database drops the place from
 * the order and walks all moves of the company by their identifiers, past whatever other places
 * moved since. A range sorted by place and identifier it can only walk by the index of both.
 */
function oneOnly(placeId: string) {
  return { placeId: { gte: placeId, lte: placeId } };
}
