import { z } from 'zod';
import { bytes, type ReadContext, type Route, read } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import { bookInForce } from '../pricebook/index.ts';
import { type ReorderList, reorderListSchema } from './contract.ts';
import { makeReorderList } from './make-reorder-list.ts';
import { reorderTable } from './reorder-table.ts';
import { shortParts } from './short-parts.ts';

const office = ['dispatcher', 'owner'] as const;
const csv = 'text/csv; charset=utf-8';
const ofPlace = z.strictObject({ placeId: z.uuid().optional() });

export const reorderRoutes: readonly Route[] = [
  read({
    operationId: 'getReorderList',
    summary: 'What to order from each supplier: every part at or under its reorder point',
    description:
      'Suppliers and costs are those of the price book in force. Goods sold by measure are ' +
      'ordered in whole packs, for each place of its own.',
    tag: 'supplies',
    path: '/v1/reorder-list',
    access: office,
    query: ofPlace,
    response: reorderListSchema,
    problems: ['no-price-book'],
    handle: async (context, { query }) => ({ body: await reorderList(context, query.placeId) }),
  }),
  bytes({
    operationId: 'getReorderTable',
    summary: 'The reorder list as a CSV file, a row for each part and place; amounts are dollars',
    tag: 'supplies',
    path: '/v1/reorder-list/csv',
    access: office,
    query: ofPlace,
    mediaTypes: [csv],
    disposition: 'attachment',
    problems: ['no-price-book'],
    handle: async (context, { query }) => {
      const table = reorderTable(await reorderList(context, query.placeId));
      const etag = `"${sha256(table)}"`;
      return { bytes: table, mediaType: csv, etag, fileName: 'reorder-list.csv' };
    },
  }),
];

async function reorderList(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  placeId: string | undefined,
): Promise<ReorderList> {
  const { id } = await bookInForce(prisma, now);
  return makeReorderList(await shortParts(sql, id, placeId));
}
