import type { Cents } from './cents.ts';
import { explainExtendedCost, extendedCost } from './extended-cost.ts';
import type { PartTiers } from './price-book.ts';
import type { GoodsUse } from './pricing-inputs.ts';
import type { Ratio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import {
  type FlatPrice,
  type PricedSlice,
  type ProgressivePrice,
  tierPricer,
} from './tier-price.ts';
import { type WhyNode, type WhyStep, whyInput, whyRounding, whyStep } from './why.ts';

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
    const cost = explainExtendedCost(good);
    const from =
      price.mode === 'progressive' ? explainSlices(price, cost) : explainFlat(price, cost);
    return {
      amountCents,
      exact: price.exact,
      why: whyRounding('extended price', price.exact, amountCents, from),
    };
  };
}

function explainSlices({ slices }: ProgressivePrice, cost: WhyStep): WhyNode[] {
  return slices.map((slice) =>
    whyStep('slice of the cost at its factor', slice.price, 'cents', [
      explainSlice(slice, cost),
      whyInput('factor', slice.step.factorText, 'ratio'),
    ]),
  );
}

function explainSlice({ step, cost }: PricedSlice, whole: WhyStep): WhyNode {
  const end = step.upToCents;
  return whyStep('cost in this step', cost, 'cents', [
    whole,
    whyInput('above', step.aboveCents, 'cents'),
    ...(end === undefined ? [] : [whyInput('up to', end, 'cents')]),
  ]);
}

function explainFlat({ own, liftedTo }: FlatPrice, cost: WhyStep): WhyNode[] {
  const ownStep = whyStep('cost at its factor', own.price, 'cents', [
    cost,
    whyInput('factor', own.step.factorText, 'ratio'),
  ]);
  if (liftedTo === undefined) return [ownStep];
  const top = whyStep('top price of the steps below', liftedTo.price, 'cents', [
    whyInput('up to', liftedTo.costCents, 'cents'),
    whyInput('factor', liftedTo.factorText, 'ratio'),
  ]);
  return [whyStep('the higher of both', liftedTo.price, 'cents', [ownStep, top])];
}
