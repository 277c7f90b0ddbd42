import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import { dayText } from '../platform/calendar-day.ts';
import type { Tx } from '../platform/database/database.ts';
import type {
  PriceBookPart,
  PriceBookTask,
  PriceBookVersion,
  TaxRule,
} from '../platform/database/generated/client.ts';
import { code, idParam, text } from '../platform/http/formats.ts';
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
import { goodsTaxClassSchema, goodsUnitSchema, laborRateCents } from '../pricing/index.ts';
import { partCategorySchema, partSchema, taskCodeSchema } from '../trade/index.ts';
import { addTaxRule } from './add-tax-rule.ts';
import { bookInForce, toHead } from './book-in-force.ts';
import {
  bookPartSchema,
  newPriceBookSchema,
  newTaxRuleSchema,
  priceBookHeadSchema,
  priceBookSchema,
  taxRuleAnswerSchema,
  warrantyClassSchema,
} from './contract.ts';
import { findParts } from './find-parts.ts';
import { publishBook } from './publish-book.ts';
import { remediesOf } from './remedies-of.ts';

export const priceBookRoutes: readonly Route[] = [
  act({
    operationId: 'publishPriceBook',
    summary: 'Publish a price book as the next version',
    description:
      'A version never changes. What is already quoted keeps the version it was priced by.',
    tag: 'price book',
    method: 'POST',
    path: '/v1/price-books',
    access: ['owner'],
    body: newPriceBookSchema,
    // A supplier's whole catalog is some fifty thousand parts.
    bodyBytesMax: 16 * 1024 * 1024,
    response: priceBookSchema,
    status: 201,
    handle: async (context, { body: { effectiveFrom, ...content } }) => {
      const id = await publishBook(context, content, effectiveFrom);
      return { body: await wholeBook(context.tx, id), location: `/v1/price-books/${id}` };
    },
  }),
  read({
    operationId: 'listPriceBooks',
    summary: 'The versions of the price book, past, present and to come',
    tag: 'price book',
    path: '/v1/price-books',
    access: ['owner'],
    query: z.strictObject({ ...pageQuery, ...orderQuery }),
    response: pageOf(priceBookHeadSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query }) => {
      const filter = { list: 'price-books', order: query.order };
      const rows = await prisma.priceBookVersion.findMany({
        ...readOn(query.order, startAfter(query.cursor, filter)),
        take: query.limit + 1,
      });
      return { body: cutPage(rows.map(headBody), query.limit, filter) };
    },
  }),
  read({
    operationId: 'getPriceBookInForce',
    summary: 'The price book in force now, with costs',
    tag: 'price book',
    path: '/v1/price-books/in-force',
    access: ['owner'],
    response: priceBookSchema,
    problems: ['no-price-book'],
    handle: async ({ prisma, now }) => {
      const { id } = await bookInForce(prisma, now);
      return { body: await wholeBook(prisma, id) };
    },
  }),
  read({
    operationId: 'getPriceBook',
    summary: 'One version of the price book, with costs',
    tag: 'price book',
    path: '/v1/price-books/:priceBookId',
    access: ['owner'],
    params: idParam('priceBookId'),
    response: priceBookSchema,
    handle: async ({ prisma }, { params }) => ({
      body: await wholeBook(prisma, params.priceBookId),
    }),
  }),
  read({
    operationId: 'listParts',
    summary: 'The parts of the price book in force by their codes, without costs',
    tag: 'price book',
    path: '/v1/parts',
    access: anyStaff,
    query: z.strictObject({
      ...pageQuery,
      category: partCategorySchema.optional(),
      search: text(60).optional().meta({ description: 'A part of its code or name.' }),
    }),
    response: pageOf(
      z.strictObject({
        code: z.string(),
        name: z.string(),
        unit: goodsUnitSchema.nullable().meta({ description: 'Of what is sold by measure.' }),
        fit: partSchema,
      }),
    ),
    problems: ['no-price-book', 'cursor-invalid'],
    handle: async ({ prisma, now }, { query }) => {
      const { limit, cursor, category, search } = query;
      const { id } = await bookInForce(prisma, now);
      // The cursor names the book: in the middle of a walk, the next book has other parts.
      const filter = { list: 'parts', bookId: id, category, search };
      const after = startAfterKey(cursor, filter, bookPartSchema.shape.code);
      const parts = await findParts(prisma, id, { category, search, after, limit: limit + 1 });
      const items = parts.map(({ code, name, unit, ...part }) => ({
        code,
        name,
        unit: goodsUnitSchema.nullable().parse(unit),
        fit: fitOf(part),
      }));
      return { body: cutPageByKey(items, limit, filter, ({ code }) => code) };
    },
  }),
  read({
    operationId: 'listTaxRules',
    summary: 'The tax rules, in the order they were added',
    tag: 'price book',
    path: '/v1/tax-rules',
    access: ['owner'],
    query: z.strictObject({ ...pageQuery, jurisdiction: code.optional() }),
    response: pageOf(taxRuleAnswerSchema),
    problems: ['cursor-invalid'],
    handle: async ({ prisma }, { query }) => {
      const { limit, cursor, jurisdiction } = query;
      const filter = { list: 'tax-rules', jurisdiction };
      const { where, orderBy } = readOn('oldest', startAfter(cursor, filter));
      const rows = await prisma.taxRule.findMany({
        where: { ...where, ...(jurisdiction && { jurisdiction }) },
        orderBy,
        take: limit + 1,
      });
      return { body: cutPage(rows.map(taxRuleBody), limit, filter) };
    },
  }),
  act({
    operationId: 'addTaxRule',
    summary: 'Add a tax rule of a jurisdiction',
    tag: 'price book',
    method: 'POST',
    path: '/v1/tax-rules',
    access: ['owner'],
    body: newTaxRuleSchema,
    response: taxRuleAnswerSchema,
    status: 201,
    problems: ['already-exists'],
    handle: async (context, { body }) => {
      const { id } = await addTaxRule(context, body);
      const { confirmPast: _, effectiveTo = null, separateAboveShare = null, ...rule } = body;
      return { body: { ...rule, id, effectiveTo, separateAboveShare } };
    },
  }),
];

async function wholeBook(
  prisma: Pick<Tx, 'priceBookVersion'>,
  id: string,
): Promise<z.input<typeof priceBookSchema>> {
  const row = await prisma.priceBookVersion.findUnique({
    where: { id },
    include: { tasks: { orderBy: { code: 'asc' } }, parts: { orderBy: { code: 'asc' } } },
  });
  if (row === null) throw notFound('price book');
  const { effectiveFrom, publishedAt, ...head } = toHead(row);
  return {
    ...head,
    effectiveFrom: effectiveFrom.toISOString(),
    publishedAt: publishedAt.toISOString(),
    laborRateCents: laborRateCents(head.rates),
    tasks: row.tasks.map(taskBody),
    parts: row.parts.map(partBody),
  };
}

function taskBody({ versionId: _, ...task }: PriceBookTask) {
  const code = taskCodeSchema.parse(task.code);
  return { ...task, code, remedies: remediesOf(code) };
}

function partBody({ versionId: _, category, specs, unit, packQuantity, ...part }: PriceBookPart) {
  const { supplier, taxClass, warrantyClass, ...rest } = part;
  return {
    ...rest,
    ...(supplier !== null && { supplier }),
    ...(unit !== null &&
      packQuantity !== null && {
        measured: { unit: goodsUnitSchema.parse(unit), packQuantity: packQuantity.toFixed() },
      }),
    taxClass: goodsTaxClassSchema.parse(taxClass),
    warrantyClass: warrantyClassSchema.parse(warrantyClass),
    fit: fitOf({ category, specs }),
  };
}

function headBody(row: PriceBookVersion): z.input<typeof priceBookHeadSchema> {
  const { id, number, effectiveFrom, publishedAt, rates } = toHead(row);
  return {
    id,
    number,
    effectiveFrom: effectiveFrom.toISOString(),
    publishedAt: publishedAt.toISOString(),
    laborRateCents: laborRateCents(rates),
  };
}

// What is stored is read back through the schema it was checked with.
function taxRuleBody(row: TaxRule): z.output<typeof taxRuleAnswerSchema> {
  return taxRuleAnswerSchema.parse({
    ...row,
    rate: row.rate.toFixed(),
    effectiveFrom: dayText(row.effectiveFrom),
    effectiveTo: row.effectiveTo && dayText(row.effectiveTo),
    separateAboveShare: row.separateAboveShare?.toFixed() ?? null,
  });
}

function fitOf({ category, specs }: { category: string; specs: unknown }) {
  return partSchema.parse({ category, specs });
}
