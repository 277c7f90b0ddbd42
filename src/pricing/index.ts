export { betterOfAgreements } from './better-of-agreements.ts';
export { addCents, type Cents, cents, NotCentsError } from './cents.ts';
export { companyUseTax } from './company-use-tax.ts';
export { compareRates } from './compare-rates.ts';
export { decimalText } from './decimal-text.ts';
export { earlierWorkOf } from './earlier-work-of.ts';
export { explainTotals } from './explain-totals.ts';
export { factorsRise } from './factors-rise.ts';
export { figureUnits } from './figure-of.ts';
export { goodsPricer } from './goods-price.ts';
export { costPerHour, explainLaborRate, laborRateCents } from './labor-rate.ts';
export { laborWarrantyDays } from './labor-warranty-days.ts';
export { largestAtMost } from './largest-at-most.ts';
export { goodKey, partKey, visitFeeCreditKey, visitFeeKey } from './line-keys.ts';
export { type PartPricer, partPricer } from './part-price.ts';
export {
  type Agreement,
  agreementSchema,
  type ChargeClass,
  chargeClassSchema,
  decimalSchema,
  type GoodsUnit,
  goodsTaxClassSchema,
  goodsUnitSchema,
  measuredSchema,
  type PartTiers,
  type Policy,
  partTiersSchema,
  periodSchema,
  policySchema,
  type RateInputs,
  rateInputsSchema,
  shareSchema,
  type TaxRule,
  taxClassSchema,
  taxRuleSchema,
  type Wage,
} from './price-book.ts';
export { priceQuote } from './price-quote.ts';
export type {
  Line,
  PricedOption,
  PricedQuote,
  PricingRefusal,
  PricingResult,
  Stated,
} from './priced-quote.ts';
export {
  type EarlierWork,
  type GoodsUse,
  goodsUseSchema,
  type OptionInputs,
  type PartUse,
  type PricingInputs,
  pricingInputsSchema,
  type VisitFee,
  type WorkItem,
} from './pricing-inputs.ts';
export { rateWorkshop } from './rate-workshop.ts';
export { ratioOf } from './ratio.ts';
export { roundHalfUpToCents } from './round-half-up-to-cents.ts';
export { roundTaxes, type TaxableAmount } from './round-taxes.ts';
export {
  currentPricingRuleset,
  type PricingRulesetVersion,
  pricingRulesets,
  pricingRulesetVersions,
} from './rulesets.ts';
export { describeInSpanish } from './spanish/describe-in-spanish.ts';
export { lineInSpanish } from './spanish/line-in-spanish.ts';
export type { SpanishContext } from './spanish/spanish-context.ts';
export { minutesInSpanish } from './spanish/words.ts';
export {
  type MissingFromBook,
  type OtherBook,
  type OtherPart,
  substituteBook,
} from './substitute-book.ts';
export { sumLines } from './sum-lines.ts';
export { taxClassOfKey } from './tax-class-of-key.ts';
export { taxLabel, taxLabelInSpanish } from './tax-label.ts';
export type { Why, WhyNode } from './why.ts';
export { whyForCustomer } from './why-for-customer.ts';
export { whyInWords, whyNodeInWords } from './why-in-words.ts';
export {
  dollarsText,
  goodsUnitWords,
  measuredText,
  minutesText,
  percentText,
} from './words.ts';
export { workKinds } from './work-kinds.ts';
