import { z } from 'zod';
import { anyStaff } from '../platform/access/actor.ts';
import type { Tx } from '../platform/database/database.ts';
import { idParam, instant } from '../platform/http/formats.ts';
import { notFound } from '../platform/http/problem.ts';
import { act, type Route, read } from '../platform/http/route.ts';
import { laborRateCents } from '../pricing/index.ts';
import { partCategorySchema, partSchema, taskCodeSchema } from '../trade/index.ts';
import { addTaxRule } from './add-tax-rule.ts';
import { bookInForce, toHead } from './book-in-force.ts';
import {
  newPriceBookSchema,
  newTaxRuleSchema,
  priceBookSchema,
  taxRuleAnswerSchema,
  visitFeeQuoteSchema,
} from './contract.ts';
import { publishPriceBook } from './publish-price-book.ts';
import { visitFeeAt } from './visit-fee-at.ts';

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
    response: priceBookSchema,
    status: 201,
    handle: async (context, { body }) => {
      const id = await publishPriceBook(context, body);
      return { body: await wholeBook(context.tx, id), location: `/v1/price-books/${id}` };
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
    summary: 'The parts of the price book in force, without costs',
    tag: 'price book',
    path: '/v1/parts',
    access: anyStaff,
    query: z.strictObject({ category: partCategorySchema.optional() }),
    response: z.strictObject({
      items: z.array(z.strictObject({ code: z.string(), name: z.string(), fit: partSchema })),
    }),
    problems: ['no-price-book'],
    handle: async ({ prisma, now }, { query }) => {
      const { id } = await bookInForce(prisma, now);
      const parts = await prisma.priceBookPart.findMany({
        where: { versionId: id, ...(query.category && { category: query.category }) },
        orderBy: { code: 'asc' },
      });
      return {
        body: { items: parts.map(({ code, name, ...part }) => ({ code, name, fit: fitOf(part) })) },
      };
    },
  }),
  read({
    operationId: 'getVisitFee',
    summary: 'The visit fee for an arrival window, to be told to the caller',
    tag: 'price book',
    path: '/v1/visit-fee',
    access: ['dispatcher', 'owner'],
    query: z.strictObject({ windowStart: instant }),
    response: visitFeeQuoteSchema,
    problems: ['no-price-book'],
    handle: async ({ prisma, now }, { query }) => {
      const fee = await visitFeeAt(prisma, new Date(query.windowStart), now);
      return {
        body: {
          windowStart: query.windowStart,
          periodCode: fee.period.code,
          feeCents: fee.period.visitFeeCents,
        },
      };
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
      return { body: { ...body, id, effectiveTo: body.effectiveTo ?? null } };
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
    tasks: row.tasks.map(({ versionId: _, code, ...task }) => ({
      ...task,
      code: taskCodeSchema.parse(code),
    })),
    parts: row.parts.map(({ versionId: _, supplier, category, specs, ...part }) => ({
      ...part,
      ...(supplier !== null && { supplier }),
      fit: fitOf({ category, specs }),
    })),
  };
}

function fitOf({ category, specs }: { category: string; specs: unknown }) {
  return partSchema.parse({ category, specs });
}
