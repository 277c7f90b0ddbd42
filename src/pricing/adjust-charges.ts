import { addCents, type Cents, cents } from './cents.ts';
import { type Charge, computedCents, type FixedBy, type Unplaced } from './charge.ts';
import { compareText } from './compare-text.ts';
import { adjustmentKey } from './line-keys.ts';
import type { AdjustmentLine, PricingRefusal, PricingRefusalCode } from './priced-quote.ts';
import type { Adjustment } from './pricing-inputs.ts';
import { compare, multiply, type Ratio, ratioOf, wholeRatio } from './ratio.ts';
import { whyInput } from './why.ts';

export interface AdjustedCharges {
  readonly charges: readonly Charge[];
  /** Not empty when something was refused; the charges are of no use then. */
  readonly refusals: readonly PricingRefusal[];
}

/**
 * Adds what people changed by hand, each change aimed at a charge and within its fair band.
 *
 * The band: the floor is the line's cost, or the computed price where the rules themselves went
 * below it; the ceiling is the computed price plus the tolerance. Only the owner may leave it:
 * what everybody else changes, taken together, must stay inside. The visit fee was fixed when it
 * was told, so its band is that one amount. Nobody, the owner included, may charge for what a rule
 * made free (mend the fact instead), raise the told fee or a line of a reset, or push a line below
 * zero (that is a credit memo).
 */
export function adjustCharges(
  charges: readonly Charge[],
  adjustments: readonly Adjustment[],
  tolerance: string,
  optionPointer: string,
): AdjustedCharges {
  if (adjustments.length === 0) return { charges, refusals: [] };
  const aimed = adjustments.map((adjustment, at) => ({
    ...adjustment,
    pointer: `${optionPointer}/adjustments/${at}`,
  }));
  const ratio = ratioOf(tolerance);
  const keys = new Set(charges.map(({ line }) => line.key));
  const refusals = aimed.flatMap((adjustment) => refusalsOfOne(adjustment, keys));
  const adjusted = charges.map((charge) => {
    const here = aimed.filter(({ aimedAt }) => aimedAt === charge.line.key);
    const refusal = here.length === 0 ? undefined : refusalOfBand(charge, here, ratio);
    if (refusal !== undefined) refusals.push(refusal);
    return here.length === 0 ? charge : { ...charge, adjustments: adjustmentLines(charge, here) };
  });
  return { charges: adjusted, refusals };
}

interface AimedAdjustment extends Adjustment {
  readonly pointer: string;
}

function refusalsOfOne(adjustment: AimedAdjustment, keys: ReadonlySet<string>): PricingRefusal[] {
  const refusals: PricingRefusal[] = [];
  if (adjustment.reason.trim() === '') {
    refusals.push({
      code: 'adjustment_without_reason',
      message: 'An adjustment needs a reason that the customer can read.',
      pointer: `${adjustment.pointer}/reason`,
    });
  }
  if (!keys.has(adjustment.aimedAt)) {
    refusals.push({
      code: 'unknown_adjustment_target',
      message: `There is no charge '${adjustment.aimedAt}' in this option. An adjustment is aimed at the fee, a part, labor or access.`,
      pointer: `${adjustment.pointer}/aimedAt`,
    });
  }
  return refusals;
}

function refusalOfBand(
  charge: Charge,
  aimed: readonly AimedAdjustment[],
  tolerance: Ratio,
): PricingRefusal | undefined {
  const computed = computedCents(charge);
  const byAll = addCents(aimed.map(({ amountCents }) => amountCents));
  const byOthers = aimed.filter(({ byOwner }) => !byOwner);
  const withOthers = addCents([computed, ...byOthers.map(({ amountCents }) => amountCents)]);
  const blame = (byOthers[0] ?? aimed[0])?.pointer ?? '';
  const refuse = (code: PricingRefusalCode, message: string): PricingRefusal => ({
    code,
    message,
    pointer: `${blame}/amountCents`,
  });

  if (charge.fixedBy !== undefined && byAll > 0) {
    return refuse(charge.fixedBy, fixedWords[charge.fixedBy](charge.line.description));
  }
  if (cents(computed + byAll) < 0) {
    return refuse(
      'adjustment_below_zero',
      `'${charge.line.description}' cannot be adjusted below zero.`,
    );
  }
  if (isInsideBand(charge, computed, withOthers, tolerance)) return undefined;
  return refuse(
    'adjustment_outside_fair_band',
    `'${charge.line.description}' would leave the fair band. Only the owner may do that.`,
  );
}

const fixedWords: Record<FixedBy, (line: string) => string> = {
  free_line_charged: (line) => `'${line}' is free by rule.`,
  fee_raised: (line) => `'${line}' was told before the visit. Nobody may raise it.`,
  reset_raised: (line) => `'${line}' belongs to a reset, for which nobody may charge more.`,
};

function isInsideBand(charge: Charge, computed: Cents, adjusted: Cents, tolerance: Ratio): boolean {
  if (charge.line.kind === 'visit_fee') return adjusted === computed;
  const price = wholeRatio(computed);
  const value = wholeRatio(adjusted);
  const floor = compare(charge.floor, price) < 0 ? charge.floor : price;
  const ceiling = multiply(price, {
    numerator: tolerance.denominator + tolerance.numerator,
    denominator: tolerance.denominator,
  });
  return compare(value, floor) >= 0 && compare(value, ceiling) <= 0;
}

/** In an order that does not depend on which was written first. */
function adjustmentLines(
  charge: Charge,
  aimed: readonly AimedAdjustment[],
): Unplaced<AdjustmentLine>[] {
  return aimed.toSorted(inCanonicalOrder).map((adjustment, at) => ({
    key: adjustmentKey(charge.line.key, at + 1),
    kind: 'adjustment',
    class: charge.line.class,
    aimedAt: charge.line.key,
    byOwner: adjustment.byOwner,
    code: 'adjustment',
    description: `Adjustment: ${charge.line.description}`,
    amountCents: cents(adjustment.amountCents),
    why: {
      sentence: adjustment.reason.trim(),
      steps: [whyInput('adjustment by hand', adjustment.amountCents, 'cents')],
      owner: [],
    },
  }));
}

function inCanonicalOrder(a: Adjustment, b: Adjustment): number {
  if (a.amountCents !== b.amountCents) return a.amountCents - b.amountCents;
  if (a.byOwner !== b.byOwner) return a.byOwner ? 1 : -1;
  return compareText(a.reason, b.reason);
}
