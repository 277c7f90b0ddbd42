import type { FlatPrice, PricedSlice, ProgressivePrice, TierPrice } from './tier-price.ts';
import { type WhyNode, whyInput, whyStep } from './why.ts';

/** How a price came from a cost by the tiers of the book; for the owner's eyes. */
export function explainTierPrice(price: TierPrice, cost: WhyNode): WhyNode[] {
  return price.mode === 'progressive' ? explainSlices(price, cost) : explainFlat(price, cost);
}

function explainSlices({ slices }: ProgressivePrice, cost: WhyNode): WhyNode[] {
  return slices.map((slice) =>
    whyStep('slice of the cost at its factor', slice.price, 'cents', [
      explainSlice(slice, cost),
      whyInput('factor', slice.step.factorText, 'ratio'),
    ]),
  );
}

function explainSlice({ step, cost }: PricedSlice, whole: WhyNode): WhyNode {
  const end = step.upToCents;
  return whyStep('cost in this step', cost, 'cents', [
    whole,
    whyInput('above', step.aboveCents, 'cents'),
    ...(end === undefined ? [] : [whyInput('up to', end, 'cents')]),
  ]);
}

function explainFlat({ own, liftedTo }: FlatPrice, cost: WhyNode): WhyNode[] {
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
