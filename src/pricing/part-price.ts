import type { Cents } from './cents.ts';
import { explainTierPrice } from './explain-tier-price.ts';
import type { PartTiers } from './price-book.ts';
import { wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { tierPricer } from './tier-price.ts';
import { type WhyNode, whyInput, whyRounding } from './why.ts';

export interface PartPrice {
  readonly unitPriceCents: Cents;
  /** How the price came from the cost; for the owner's eyes. */
  readonly why: WhyNode;
}

/** The selling price of one piece from its unit cost. */
export type PartPricer = (unitCostCents: Cents) => PartPrice;

/** The pricer of pieces: the tiers on the cost of one, rounded, which is then x quantity. */
export function partPricer(tiers: PartTiers): PartPricer {
  const priceOf = tierPricer(tiers);
  return (unitCostCents) => {
    const price = priceOf(wholeRatio(unitCostCents));
    const unitPriceCents = roundHalfUpToCents(price.exact);
    const from = explainTierPrice(price, whyInput('unit cost', unitCostCents, 'cents'));
    return { unitPriceCents, why: whyRounding('unit price', price.exact, unitPriceCents, from) };
  };
}
