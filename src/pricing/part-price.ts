import type { Cents } from './cents.ts';
import type { PartTiers } from './price-book.ts';
import { add, compare, multiply, type Ratio, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type WhyNode, whyInput, whyRounding, whyStep } from './why.ts';

export interface PartPrice {
  readonly unitPriceCents: Cents;
  /** How the price came from the cost; for the owner's eyes. */
  readonly why: WhyNode;
}

/** The selling price of one piece from its unit cost. */
export type PartPricer = (unitCostCents: Cents) => PartPrice;

/**
 * The pricer of a price book: reads the tiers once, so that each part costs only its arithmetic.
 * A dearer part never sells for less, whatever the factors are.
 */
export function partPricer(tiers: PartTiers): PartPricer {
  const steps = readSteps(tiers);
  const priceOf = tiers.mode === 'progressive' ? progressivePrice : liftedFlatPrice;
  return (unitCostCents) => {
    const { exact, from } = priceOf(unitCostCents, steps);
    const unitPriceCents = roundHalfUpToCents(exact);
    return { unitPriceCents, why: whyRounding('unit price', exact, unitPriceCents, from) };
  };
}

interface Step {
  readonly aboveCents: number;
  readonly upToCents: number;
  readonly factorText: string;
  readonly factor: Ratio;
  /** The highest price of any step below; a flat price is lifted to it. */
  readonly topPriceBelow: Ratio;
}

interface ExactPrice {
  readonly exact: Ratio;
  readonly from: readonly WhyNode[];
}

function readSteps(tiers: PartTiers): Step[] {
  let aboveCents = 0;
  let topPriceBelow = wholeRatio(0);
  return tiers.steps.map(({ upToCents, factor: factorText }) => {
    const factor = ratioOf(factorText);
    const step = {
      aboveCents,
      upToCents: upToCents ?? Number.POSITIVE_INFINITY,
      factorText,
      factor,
      topPriceBelow,
    };
    if (upToCents !== null) {
      const topPrice = multiply(wholeRatio(upToCents), factor);
      if (compare(topPrice, topPriceBelow) > 0) topPriceBelow = topPrice;
      aboveCents = upToCents;
    }
    return step;
  });
}

/** Each slice of the cost at the factor of its own step, like tax brackets. */
function progressivePrice(unitCostCents: number, steps: readonly Step[]): ExactPrice {
  let exact = wholeRatio(0);
  const from: WhyNode[] = [];
  for (const step of steps) {
    if (unitCostCents <= step.aboveCents && step.aboveCents > 0) break;
    const sliceCents = Math.min(unitCostCents, step.upToCents) - step.aboveCents;
    const price = multiply(wholeRatio(sliceCents), step.factor);
    exact = add(exact, price);
    from.push(
      whyStep('slice of the unit cost', price, 'cents', [
        whyInput('unit cost in this step', sliceCents, 'cents'),
        whyInput('factor', step.factorText, 'ratio'),
      ]),
    );
  }
  return { exact, from };
}

/** The whole cost at the factor of its step, never below what a cheaper part could sell for. */
function liftedFlatPrice(unitCostCents: number, steps: readonly Step[]): ExactPrice {
  const step = steps.find(({ upToCents }) => unitCostCents <= upToCents);
  if (step === undefined) throw new Error('Part tiers need a last step without an upper end.');
  const ownPrice = multiply(wholeRatio(unitCostCents), step.factor);
  const own = whyStep('unit cost at its factor', ownPrice, 'cents', [
    whyInput('unit cost', unitCostCents, 'cents'),
    whyInput('factor', step.factorText, 'ratio'),
  ]);
  if (compare(ownPrice, step.topPriceBelow) >= 0) return { exact: ownPrice, from: [own] };
  const lifted = whyStep(
    'lifted to the top price of the steps below',
    step.topPriceBelow,
    'cents',
    [own],
  );
  return { exact: step.topPriceBelow, from: [lifted] };
}
