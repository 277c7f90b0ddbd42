export { type BookHead, bookInForce, toHead } from './book-in-force.ts';
export { newPriceBookSchema, newTaxRuleSchema, type SchedulePeriod } from './contract.ts';
export { periodAt } from './period-at.ts';
export { priceBookRoutes } from './routes.ts';
export { taxRuleFor } from './tax-rule-for.ts';
export { visitFeeAt } from './visit-fee-at.ts';
