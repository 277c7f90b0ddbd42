import type { Cents } from './cents.ts';
import type { PartTiers } from './price-book.ts';
import { wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type FlatPrice, type ProgressivePrice, tierPricer } from './tier-price.ts';
import { type WhyNode, whyInput, whyRounding, whyStep } from './why.ts';

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
    const from =
      price.mode === 'progressive' ? explainSlices(price) : explainFlat(price, unitCostCents);
    return { unitPriceCents, why: whyRounding('unit price', price.exact, unitPriceCents, from) };
  };
}

function explainSlices({ slices }: ProgressivePrice): WhyNode[] {
  return slices.map(({ step, cost, price }) =>
    whyStep('slice of the unit cost', price, 'cents', [
      whyInput('unit cost in this step', String(cost.numerator), 'cents'),
      whyInput('factor', step.factorText, 'ratio'),
    ]),
  );
}

function explainFlat({ own, liftedTo }: FlatPrice, unitCostCents: Cents): WhyNode[] {
  const ownStep = whyStep('unit cost at its factor', own.price, 'cents', [
    whyInput('unit cost', unitCostCents, 'cents'),
    whyInput('factor', own.step.factorText, 'ratio'),
  ]);
  if (liftedTo === undefined) return [ownStep];
  return [
    whyStep('lifted to the top price of the steps below', liftedTo.price, 'cents', [ownStep]),
  ];
}
