import { compute, type Route } from '../platform/http/route.ts';
import { compareRates, rateWorkshop } from '../pricing/index.ts';
import { findBookInForce } from './book-in-force.ts';
import {
  ratesOf,
  rateWorkshopRequestSchema,
  rateWorkshopSchema,
} from './rate-workshop-contract.ts';

export const rateWorkshopRoutes: readonly Route[] = [
  compute({
    operationId: 'tryRates',
    summary: 'Try out wage, truck, overhead and margin; nothing is stored',
    description:
      'Takes an hour of labor apart, from the wage to the rate, and sets it beside the price book ' +
      'in force.',
    tag: 'price book',
    path: '/v1/rate-workshop',
    access: ['owner'],
    body: rateWorkshopRequestSchema,
    response: rateWorkshopSchema,
    handle: async ({ prisma, now }, { body }) => {
      const rates = ratesOf(body);
      const book = await findBookInForce(prisma, now);
      const inForce = book && {
        priceBookNumber: book.number,
        ...compareRates(book.rates, rates),
      };
      return { body: { ...rateWorkshop(rates), inForce: inForce ?? null } };
    },
  }),
];
