import { z } from 'zod';
import { svgOfPlot } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
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
import { act, bytes, type Route, read } from '../platform/http/route.ts';
import { sentFileSchema } from '../platform/http/sent-file.ts';
import { sha256 } from '../platform/sha256.ts';
import { billBody, importBody, judgedBy } from './answer-bill.ts';
import type { JudgeSources } from './bill-judge.ts';
import {
  billImportSchema,
  importedBillSchema,
  judgedImportSchema,
  newImportQuery,
} from './contract.ts';
import { importBills } from './import-bills.ts';
import { judgeAnew } from './judge-anew.ts';
import { plotOfImport } from './plot-of-import.ts';
import { summarizeImport } from './summarize-import.ts';

const owner = ['owner'] as const;

/** A line of a file, as a cursor holds it. */
const lineKey = z.string().regex(/^\d{1,9}$/);

export const importedBillRoutes: readonly Route[] = [
  act({
    operationId: 'importBills',
    summary: 'Take in a file of bills of another time or company',
    description:
      'All of the file or nothing, with every mistake named. A CSV file, UTF-8, with the columns ' +
      '`date`, `technician`, `complaint`, `found`, `done`, `parts`, `hours`, `arrived`, `left`, ' +
      '`fee`, `labor`, `tax`, `charged`, in any order; a row is a bill. Only `date` (2025-07-03 or ' +
      '7/3/2025) and `charged` (all of it, tax included) must be filled; what is empty is not known, ' +
      'and a `tax` of 0 says that there was none. `parts` are `name x quantity @ cost = charged` ' +
      'with semicolons between them, all but the name optional; of refrigerant the quantity is in ' +
      'pounds. `arrived` and `left` are times of day. Up to 10,000 rows and 8 MiB; a file is taken ' +
      'in once. Its bills are judged when somebody looks at them, by the rules of that day.',
    tag: 'imported bills',
    method: 'POST',
    path: '/v1/bill-imports',
    access: owner,
    query: newImportQuery,
    body: sentFileSchema,
    consumes: { mediaTypes: ['text/csv'], bytesMax: 8 * 1024 * 1024 },
    response: billImportSchema,
    status: 201,
    problems: ['file-has-mistakes', 'already-exists', 'no-price-book'],
    handle: async (context, { query, body }) => {
      const taken = await importBills(context, query, body.bytes);
      return { body: importBody(taken), location: `/v1/bill-imports/${taken.id}` };
    },
  }),
  read({
    operationId: 'listBillImports',
    summary: 'Files of imported bills, in the order they were taken in',
    tag: 'imported bills',
    path: '/v1/bill-imports',
    access: owner,
    query: z.strictObject({ ...pageQuery, ...orderQuery }),
    response: pageOf(billImportSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query: { limit, cursor, order } }) => {
      const filter = { list: 'bill-imports', order };
      const { where, orderBy } = readOn(order, startAfter(cursor, filter));
      const rows = await prisma.billImport.findMany({ where, orderBy, take: limit + 1 });
      return { body: cutPage(rows.map(importBody), limit, filter) };
    },
  }),
  read({
    operationId: 'getBillImport',
    summary: 'One file of imported bills, with what its bills come to together and what is flagged',
    description: 'Judged by the rules and the price book of now, whenever it was taken in.',
    tag: 'imported bills',
    path: '/v1/bill-imports/:importId',
    access: owner,
    params: idParam('importId'),
    response: judgedImportSchema,
    problems: ['no-price-book'],
    handle: async (context, { params }) => ({
      body: await judgedImport(context, params.importId),
    }),
  }),
  read({
    operationId: 'listImportedBills',
    summary: 'The bills of one file with their judgements, in the order of the file',
    tag: 'imported bills',
    path: '/v1/bill-imports/:importId/bills',
    access: owner,
    params: idParam('importId'),
    query: z.strictObject({
      ...pageQuery,
      only: z.enum(['flagged']).optional().meta({ description: 'Bills with a flag.' }),
    }),
    response: pageOf(importedBillSchema),
    problems: ['no-price-book', 'cursor-invalid'],
    handle: async (context, { params: { importId }, query: { limit, cursor, only } }) => {
      await importOf(context, importId);
      // The cursor names what judges: in the middle of a walk, other rules flag other bills.
      const by = await judgeAnew(context, importId);
      const filter = { list: 'imported-bills', importId, only, ...judgedBy(by) };
      const after = startAfterKey(cursor, filter, lineKey);
      const rows = await context.prisma.importedBill.findMany({
        where: {
          importId,
          ...(after !== undefined && { row: { gt: Number(after) } }),
          ...(only === 'flagged' && { flagCount: { gt: 0 } }),
        },
        orderBy: { row: 'asc' },
        take: limit + 1,
      });
      const page = cutPageByKey(rows.map(billBody), limit, filter, ({ line }) => String(line));
      return { body: page };
    },
  }),
  bytes({
    operationId: 'getBillImportPlot',
    summary:
      'What the bills of a file charged for each kind of work, beside the fair price, as a picture',
    description:
      'SVG, with its title and description in it. Bills without a fair price are not in it.',
    tag: 'imported bills',
    path: '/v1/bill-imports/:importId/plot',
    access: owner,
    params: idParam('importId'),
    mediaTypes: ['image/svg+xml'],
    disposition: 'inline',
    problems: ['no-price-book'],
    handle: async (context, { params: { importId } }) => {
      await importOf(context, importId);
      const picture = Buffer.from(svgOfPlot(await plotOfImport(context, importId)));
      const etag = `"${sha256(picture)}"`;
      return { bytes: picture, mediaType: 'image/svg+xml', etag, fileName: 'fair-prices.svg' };
    },
  }),
  read({
    operationId: 'getImportedBill',
    summary: 'One imported bill with its judgement and its fair price',
    tag: 'imported bills',
    path: '/v1/imported-bills/:billId',
    access: owner,
    params: idParam('billId'),
    response: importedBillSchema,
    problems: ['no-price-book'],
    handle: async (context, { params }) => {
      const where = { id: params.billId };
      const kept = await context.prisma.importedBill.findUnique({ where });
      if (kept === null) throw notFound('bill');
      await judgeAnew(context, kept.importId);
      return { body: billBody(await context.prisma.importedBill.findUniqueOrThrow({ where })) };
    },
  }),
];

type Reads = JudgeSources & { prisma: Pick<Tx, 'billImport'> };

async function importOf({ prisma }: Pick<Reads, 'prisma'>, id: string) {
  const row = await prisma.billImport.findUnique({ where: { id } });
  if (row === null) throw notFound('file of bills');
  return row;
}

async function judgedImport(
  context: Reads,
  id: string,
): Promise<z.input<typeof judgedImportSchema>> {
  const row = await importOf(context, id);
  const by = await judgeAnew(context, id);
  const summary = await summarizeImport(context.sql, id);
  return { ...importBody(row), summary: { ...summary, judgedBy: judgedBy(by) } };
}
