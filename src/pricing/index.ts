export { betterOfAgreements } from './better-of-agreements.ts';
export { burdenedWage } from './burdened-wage.ts';
export { addCents, type Cents, cents, centsSchema, NotCentsError } from './cents.ts';
export { type CompanyUseTax, companyUseTax } from './company-use-tax.ts';
export { type BeforeAndAfter, compareRates, type RateComparison } from './compare-rates.ts';
export { type DecimalText, decimalText } from './decimal-text.ts';
export { type AcceptedLine, earlierWorkOf } from './earlier-work-of.ts';
export { type ExplainedTotals, explainTotals, type SummedLine } from './explain-totals.ts';
export { explainExtendedCost, extendedCost } from './extended-cost.ts';
export { factorsRise } from './factors-rise.ts';
export { type Figure, figureUnits } from './figure-of.ts';
export { type GoodsPrice, type GoodsPricer, goodsPricer } from './goods-price.ts';
export { costPerHour, explainLaborRate, type LaborRate, laborRateCents } from './labor-rate.ts';
export { accessKey, goodKey, laborKey, partKey, visitFeeKey } from './line-keys.ts';
export { type PartPrice, type PartPricer, partPricer } from './part-price.ts';
export {
  type Agreement,
  agreementSchema,
  type Burden,
  bookCentsSchema,
  burdenSchema,
  type ChargeClass,
  chargeClassSchema,
  decimalSchema,
  type GoodsTaxClass,
  type GoodsUnit,
  goodsTaxClassSchema,
  goodsUnitSchema,
  measuredSchema,
  type PartTiers,
  type Period,
  type Policy,
  partTiersSchema,
  periodSchema,
  policySchema,
  type RateInputs,
  rateInputsSchema,
  shareSchema,
  type TaxClass,
  type TaxRule,
  taxClassSchema,
  taxRuleSchema,
  type Wage,
  wageSchema,
} from './price-book.ts';
export { priceQuote } from './price-quote.ts';
export type {
  AccessLine,
  AdjustmentLine,
  ChargeLine,
  CreditLine,
  DiscountLine,
  GoodLine,
  LaborLine,
  Line,
  PartLine,
  PricedCharges,
  PricedOption,
  PricedQuote,
  PricingRefusal,
  PricingRefusalCode,
  PricingResult,
  Stated,
  TaxLine,
  VisitFeeLine,
} from './priced-quote.ts';
export {
  type Adjustment,
  adjustmentSchema,
  type EarlierWork,
  earlierWorkSchema,
  type GoodsUse,
  goodsUseSchema,
  type OptionInputs,
  optionInputsSchema,
  type PartUse,
  type PricingInputs,
  partUseSchema,
  pricingInputsSchema,
  type RemedyClass,
  remedyClassSchema,
  type VisitFee,
  visitFeeSchema,
  type WorkItem,
  workItemSchema,
} from './pricing-inputs.ts';
export { type RateWorkshop, rateWorkshop } from './rate-workshop.ts';
export { type Ratio, ratioOf } from './ratio.ts';
export { roundHalfUpToCents } from './round-half-up-to-cents.ts';
export {
  currentPricingRuleset,
  type PricingRuleset,
  type PricingRulesetVersion,
  pricingRulesets,
  pricingRulesetVersions,
} from './rulesets.ts';
export {
  type MissingFromBook,
  type OtherBook,
  type OtherPart,
  type OtherTask,
  type Substitution,
  substituteBook,
} from './substitute-book.ts';
export { sumLines } from './sum-lines.ts';
export type { Why, WhyInput, WhyNode, WhyRounding, WhyStep, WhyUnit } from './why.ts';
export { type CustomerWhy, whyForCustomer } from './why-for-customer.ts';
export { whyInWords, whyNodeInWords } from './why-in-words.ts';
export {
  codeText,
  dollarsText,
  measuredText,
  minutesText,
  percentText,
  taxClassWords,
} from './words.ts';
