import { z } from 'zod';
import { dayText } from '../platform/calendar-day.ts';
import type { SupplierBill } from '../platform/database/generated/client.ts';
import { idParam, text } from '../platform/http/formats.ts';
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
import { sentFileSchema } from '../platform/http/sent-file.ts';
import { bookInForce } from '../pricebook/index.ts';
import {
  billHeadSchema,
  billSchema,
  costChangeSchema,
  loadedBillsSchema,
  newBillSchema,
  partCode,
} from './contract.ts';
import { enterBill } from './enter-bill.ts';
import { findCostChanges } from './find-cost-changes.ts';
import { loadBills } from './load-bills.ts';
import { readBills } from './read-bills.ts';

const office = ['dispatcher', 'owner'] as const;

export const billRoutes: readonly Route[] = [
  act({
    operationId: 'enterSupplierBill',
    summary: 'Enter a supplier’s bill; what it brought is counted up at its place',
    description:
      'Lines and other charges must come to the total. What went back is a line with a negative ' +
      'quantity and amount. The answer says what each line charged for a piece or a pack and, to ' +
      'the owner, sets it beside the cost in the price book in force.',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/supplier-bills',
    access: office,
    body: newBillSchema,
    response: billSchema,
    status: 201,
    problems: ['already-exists', 'no-price-book', 'unknown-reference'],
    handle: async (context, { body }) => {
      const bill = await enterBill(context, body);
      return { body: bill, location: `/v1/supplier-bills/${bill.id}` };
    },
  }),
  act({
    operationId: 'loadSupplierBills',
    summary: 'Enter all bills of a CSV file, or none of them',
    description:
      'A row for each line of a bill, as accounting programs write them: `supplier`, `number`, ' +
      '`billed_on`, `place` (by its name), `part_code` (empty for what is no part of the book), ' +
      '`description`, `quantity`, `amount`, `other_charges`, `total`, in any order. Rows of one ' +
      'supplier and number are one bill; its first row has the whole head, later rows repeat it ' +
      'or leave it empty. Amounts are dollars (12.34, $1,234.50, -12.00), days 2026-07-15 or ' +
      '7/15/2026. Up to 2,000 rows and 2 MiB.',
    tag: 'supplies',
    method: 'POST',
    path: '/v1/supplier-bills/load',
    access: office,
    body: sentFileSchema,
    consumes: { mediaTypes: ['text/csv'], bytesMax: 2 * 1024 * 1024 },
    response: loadedBillsSchema,
    status: 201,
    problems: ['file-has-mistakes', 'already-exists', 'no-price-book'],
    handle: async (context, { body }) => ({
      body: { bills: await loadBills(context, body.bytes) },
    }),
  }),
  read({
    operationId: 'listSupplierBills',
    summary: 'Suppliers’ bills without their lines, in the order they were entered',
    tag: 'supplies',
    path: '/v1/supplier-bills',
    access: office,
    query: z.strictObject({ ...pageQuery, ...orderQuery, supplier: text(120).optional() }),
    response: pageOf(billHeadSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query }) => {
      const { limit, cursor, order, supplier } = query;
      const filter = { list: 'supplier-bills', order, supplier };
      const { where, orderBy } = readOn(order, startAfter(cursor, filter));
      const rows = await prisma.supplierBill.findMany({
        where: { ...where, ...(supplier !== undefined && { supplier }) },
        orderBy,
        take: limit + 1,
      });
      return { body: cutPage(rows.map(headBody), limit, filter) };
    },
  }),
  read({
    operationId: 'getSupplierBill',
    summary: 'One supplier’s bill; for the owner, each line beside the cost in the price book',
    tag: 'supplies',
    path: '/v1/supplier-bills/:billId',
    access: office,
    params: idParam('billId'),
    response: billSchema,
    problems: ['no-price-book'],
    handle: async (context, { params }) => {
      const { id } = await bookInForce(context.prisma, context.now);
      const [bill] = await readBills(context, [params.billId], id);
      if (bill === undefined) throw notFound('supplier’s bill');
      return { body: bill };
    },
  }),
  read({
    operationId: 'listCostChanges',
    summary: 'Parts that cost something else on their latest bill than in the price book in force',
    description:
      'By part code, for the next draft of the book. A part costs what the bill of the latest ' +
      'date charged for a piece or a pack, without freight and tax; what went back or came free ' +
      'does not count.',
    tag: 'supplies',
    path: '/v1/cost-changes',
    access: ['owner'],
    isReport: true,
    query: z.strictObject(pageQuery),
    response: pageOf(costChangeSchema),
    problems: ['no-price-book', 'cursor-invalid'],
    handle: async ({ prisma, sql, now }, { query: { limit, cursor } }) => {
      const { id } = await bookInForce(prisma, now);
      // The cursor names the book: in the middle of a walk, the next book has other costs.
      const filter = { list: 'cost-changes', bookId: id };
      const after = startAfterKey(cursor, filter, partCode);
      const found = await findCostChanges(sql, id, { after, limit: limit + 1 });
      return { body: cutPageByKey(found, limit, filter, (change) => change.partCode) };
    },
  }),
];

function headBody({ billedOn, recordedAt, lineCount: _, ...head }: SupplierBill) {
  return {
    ...head,
    billedOn: dayText(billedOn),
    recordedAt: recordedAt.toISOString(),
  };
}
