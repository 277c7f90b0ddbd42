import { compute, type Route } from '../platform/http/route.ts';
import { compareRates, rateWorkshop } from '../pricing/index.ts';
import { findBookInForce } from './book-in-force.ts';
import { rateWorkshopSchema } from './rate-workshop-contract.ts';
import { ratesSchema } from './rates-contract.ts';

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
    body: ratesSchema,
    response: rateWorkshopSchema,
    handle: async ({ prisma, now }, { body: rates }) => {
      const book = await findBookInForce(prisma, now);
      const inForce = book && {
        priceBookNumber: book.number,
        ...compareRates(book.rates, rates),
      };
      return { body: { ...rateWorkshop(rates), inForce: inForce ?? null } };
    },
  }),
];
