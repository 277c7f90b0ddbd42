import type { PartTiers } from './price-book.ts';
import { add, compare, multiply, type Ratio, ratioOf, wholeRatio } from './ratio.ts';

/** The exact selling price of a cost, with what it was put together from. */
export type TierPrice = ProgressivePrice | FlatPrice;

export interface ProgressivePrice {
  readonly mode: 'progressive';
  readonly exact: Ratio;
  readonly slices: readonly PricedSlice[];
}

export interface FlatPrice {
  readonly mode: 'flat';
  readonly exact: Ratio;
  /** The whole cost at the factor of its step. */
  readonly own: PricedSlice;
  /** The dearest end of a step below, where the price was lifted to it. */
  readonly liftedTo: StepEnd | undefined;
}

export interface PricedSlice {
  readonly step: TierStep;
  readonly cost: Ratio;
  readonly price: Ratio;
}

export interface TierStep {
  readonly aboveCents: number;
  /** Undefined for the last step, which has no end. */
  readonly upToCents: number | undefined;
  readonly factorText: string;
  readonly factor: Ratio;
  /** The highest price of any step below; a flat price is lifted to it. */
  readonly topBelow: StepEnd;
}

export interface StepEnd {
  readonly costCents: number;
  readonly factorText: string;
  readonly price: Ratio;
}

export type TierPricer = (cost: Ratio) => TierPrice;

/**
 * The pricer of a price book: reads the tiers once, so that each cost costs only its arithmetic.
 * A dearer part never sells for less, whatever the factors are.
 */
export function tierPricer(tiers: PartTiers): TierPricer {
  const steps = readSteps(tiers);
  return tiers.mode === 'progressive'
    ? (cost) => progressivePrice(cost, steps)
    : (cost) => liftedFlatPrice(cost, steps);
}

function readSteps(tiers: PartTiers): TierStep[] {
  let aboveCents = 0;
  let topBelow: StepEnd = { costCents: 0, factorText: '1', price: wholeRatio(0) };
  return tiers.steps.map(({ upToCents, factor: factorText }) => {
    const factor = ratioOf(factorText);
    const step = { aboveCents, upToCents: upToCents ?? undefined, factorText, factor, topBelow };
    if (upToCents !== null) {
      const price = multiply(wholeRatio(upToCents), factor);
      if (compare(price, topBelow.price) > 0)
        topBelow = { costCents: upToCents, factorText, price };
      aboveCents = upToCents;
    }
    return step;
  });
}

/** Each slice of the cost at the factor of its own step, like tax brackets. */
function progressivePrice(cost: Ratio, steps: readonly TierStep[]): ProgressivePrice {
  let exact = wholeRatio(0);
  const slices: PricedSlice[] = [];
  for (const step of steps) {
    if (step.aboveCents > 0 && isAtMost(cost, step.aboveCents)) break;
    const sliceCost = sliceIn(step, cost);
    const price = multiply(sliceCost, step.factor);
    exact = add(exact, price);
    slices.push({ step, cost: sliceCost, price });
  }
  return { mode: 'progressive', exact, slices };
}

function sliceIn({ aboveCents, upToCents }: TierStep, cost: Ratio): Ratio {
  const isWithin = upToCents === undefined || isAtMost(cost, upToCents);
  const end = isWithin ? cost.numerator : BigInt(upToCents) * cost.denominator;
  return {
    numerator: end - BigInt(aboveCents) * cost.denominator,
    denominator: cost.denominator,
  };
}

/** The whole cost at the factor of its step, never below what a cheaper part could sell for. */
function liftedFlatPrice(cost: Ratio, steps: readonly TierStep[]): FlatPrice {
  const step = steps.find(({ upToCents }) => upToCents === undefined || isAtMost(cost, upToCents));
  if (step === undefined) throw new Error('Part tiers need a last step without an upper end.');
  const own = { step, cost, price: multiply(cost, step.factor) };
  if (compare(own.price, step.topBelow.price) >= 0) {
    return { mode: 'flat', exact: own.price, own, liftedTo: undefined };
  }
  return { mode: 'flat', exact: step.topBelow.price, own, liftedTo: step.topBelow };
}

function isAtMost(cost: Ratio, limitCents: number): boolean {
  return cost.numerator <= BigInt(limitCents) * cost.denominator;
}
