import type { Cents } from './cents.ts';
import { explainTierPrice } from './explain-tier-price.ts';
import { explainExtendedCost, extendedCost } from './extended-cost.ts';
import type { PartTiers } from './price-book.ts';
import type { GoodsUse } from './pricing-inputs.ts';
import type { Ratio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { tierPricer } from './tier-price.ts';
import { type WhyNode, whyRounding } from './why.ts';

export interface GoodsPrice {
  readonly amountCents: Cents;
  /** Before rounding: by this one, more is never dearer per unit. */
  readonly exact: Ratio;
  /** How the price came from the cost; for the owner's eyes. */
  readonly why: WhyNode;
}

/** The selling price of a quantity of measured goods from the cost of a pack. */
export type GoodsPricer = (good: GoodsUse) => GoodsPrice;

/**
 * The pricer of measured goods: the tiers on the cost of the whole quantity, rounded once. Applied
 * to one pound and then multiplied, the tiers would make ten pounds of a cheap refrigerant dearer
 * than one box that costs as much.
 */
export function goodsPricer(tiers: PartTiers): GoodsPricer {
  const priceOf = tierPricer(tiers);
  return (good) => {
    const price = priceOf(extendedCost(good));
    const amountCents = roundHalfUpToCents(price.exact);
    const from = explainTierPrice(price, explainExtendedCost(good));
    return {
      amountCents,
      exact: price.exact,
      why: whyRounding('extended price', price.exact, amountCents, from),
    };
  };
}
