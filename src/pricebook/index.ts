export { type BookHead, bookInForce, toHead } from './book-in-force.ts';
export {
  type BookContent,
  bookAgreementSchema,
  bookContentSchema,
  newPriceBookSchema,
  newTaxRuleSchema,
  type SchedulePeriod,
  warrantyClassSchema,
} from './contract.ts';
export { priceBookDraftRoutes } from './drafts/routes.ts';
export { storedContent } from './drafts/stored-content.ts';
export { periodAt, periodAtMoment } from './period-at.ts';
export { publishBook } from './publish-book.ts';
export { rateWorkshopRoutes } from './rate-workshop-routes.ts';
export { type KnownBook, readKnownBook } from './read-known-book.ts';
export { readTaxRules, type TaxRules } from './read-tax-rules.ts';
export { priceBookRoutes } from './routes.ts';
export { taxRuleFor, taxRuleOf } from './tax-rule-for.ts';
export { visitFeeAt } from './visit-fee-at.ts';
