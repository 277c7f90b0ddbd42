import type { GoodsUse } from './pricing-inputs.ts';
import { multiply, type Ratio, ratioOf } from './ratio.ts';
import { type WhyStep, whyInput, whyStep } from './why.ts';

/** What a quantity of measured goods costs the company, exactly: its share of a pack's cost. */
export function extendedCost(good: GoodsUse): Ratio {
  const quantity = ratioOf(good.quantity);
  const pack = ratioOf(good.packQuantity);
  return multiply(
    { numerator: BigInt(good.packCostCents), denominator: 1n },
    {
      numerator: quantity.numerator * pack.denominator,
      denominator: quantity.denominator * pack.numerator,
    },
  );
}

/** The same with its reasons; for the owner's eyes. */
export function explainExtendedCost(good: GoodsUse): WhyStep {
  return whyStep('quantity / quantity of a pack x cost of a pack', extendedCost(good), 'cents', [
    whyInput('quantity', good.quantity, good.unit),
    whyInput('quantity of a pack', good.packQuantity, good.unit),
    whyInput('cost of a pack', good.packCostCents, 'cents'),
  ]);
}
