import { z } from 'zod';
import { bytes, type ReadContext, type Route, read } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { bookInForce } from '../pricebook/index.ts';
import { type ReorderList, reorderListSchema } from './contract.ts';
import { makeReorderList } from './make-reorder-list.ts';
import { reorderTable } from './reorder-table.ts';
import { seesCosts } from './sees-costs.ts';
import { shortParts } from './short-parts.ts';

const office = ['dispatcher', 'owner'] as const;
const csv = 'text/csv; charset=utf-8';
const ofPlace = z.strictObject({ placeId: z.uuid().optional() });

export const reorderRoutes: readonly Route[] = [
  read({
    operationId: 'getReorderList',
    summary: 'What to order from each supplier: every part at or under its reorder point',
    description:
      'Suppliers and costs are those of the price book in force; costs are for the owner only. ' +
      'Goods sold by measure are ordered in whole packs, for each place of its own.',
    tag: 'supplies',
    path: '/v1/reorder-list',
    access: office,
    isReport: true,
    query: ofPlace,
    response: reorderListSchema,
    problems: ['no-price-book'],
    handle: async (context, { query }) => ({
      body: await reorderList(context, query.placeId, seesCosts(context.actor)),
    }),
  }),
  bytes({
    operationId: 'getReorderTable',
    summary: 'The reorder list as a CSV file, a row for each part and place',
    description: 'For the owner it has a column `cost`, in dollars by the price book in force.',
    tag: 'supplies',
    path: '/v1/reorder-list/csv',
    access: office,
    isReport: true,
    query: ofPlace,
    mediaTypes: [csv],
    disposition: 'attachment',
    problems: ['no-price-book'],
    handle: async (context, { query }) => {
      const withCosts = seesCosts(context.actor);
      const list = await reorderList(context, query.placeId, withCosts);
      const table = reorderTable(list, { withCosts });
      const etag = `"${sha256(table)}"`;
      return { bytes: table, mediaType: csv, etag, fileName: 'reorder-list.csv' };
    },
  }),
];

async function reorderList(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  placeId: string | undefined,
  withCosts: boolean,
): Promise<ReorderList> {
  const { id } = await bookInForce(prisma, now);
  return makeReorderList(await shortParts(sql, id, placeId), { withCosts });
}
