import { priceQuote } from './price-quote.ts';
import type { PricingResult } from './priced-quote.ts';
import type { PricingInputs } from './pricing-inputs.ts';

/** Every version that ever priced an issued quote. A version, once released, stays. */
export const pricingRulesetVersions = ['pricing-1'] as const;
export type PricingRulesetVersion = (typeof pricingRulesetVersions)[number];

export interface PricingRuleset {
  readonly version: PricingRulesetVersion;
  readonly priceQuote: (inputs: PricingInputs) => PricingResult;
}

export const pricingRulesets: Readonly<Record<PricingRulesetVersion, PricingRuleset>> = {
  'pricing-1': { version: 'pricing-1', priceQuote },
};

/** What new quotes are priced by. */
export const currentPricingRuleset: PricingRuleset = pricingRulesets['pricing-1'];
