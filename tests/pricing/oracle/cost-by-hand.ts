import type { HandGood, HandInputs } from './hand-inputs.ts';
import {
  decimal,
  divide,
  less,
  minus,
  plus,
  type Rational,
  smaller,
  times,
  whole,
} from './rational.ts';

/** What the quantity used costs out of its pack; a fraction of a cent stays one. */
export function extendedCost(good: HandGood): Rational {
  return times(
    divide(decimal(good.quantity), decimal(good.packQuantity)),
    whole(good.packCostCents),
  );
}

export function costPerHour(rates: HandInputs['rates']): Rational {
  const billableHours = times(whole(rates.annualAvailableHours), decimal(rates.billableFraction));
  const wage = divide(burdenedWage(rates), billableHours);
  const truck = divide(whole(rates.annualTruckCents), billableHours);
  const overhead = divide(
    whole(rates.annualOverheadCents),
    times(whole(rates.technicianCount), billableHours),
  );
  return plus(plus(wage, truck), overhead);
}

/** A year's wage with everything an employer pays on top of it, in cents and parts of cents. */
function burdenedWage(rates: HandInputs['rates']): Rational {
  if (!('wage' in rates)) return whole(rates.annualBurdenedWageCents);
  const { hourlyCents, annualPaidHours, burden } = rates.wage;
  const wages = times(whole(hourlyCents), whole(annualPaidHours));
  let sum = wages;
  for (const one of burden) {
    if (one.kind === 'yearly_amount') {
      sum = plus(sum, whole(one.annualCents));
    } else {
      const paidOn =
        one.onWagesUpToCents === null ? wages : smaller(wages, whole(one.onWagesUpToCents));
      sum = plus(sum, times(decimal(one.share), paidOn));
    }
  }
  return sum;
}

export function tieredPrice(cost: Rational, tiers: HandInputs['tiers']): Rational {
  return tiers.mode === 'progressive'
    ? progressivePrice(cost, tiers.steps)
    : flatPrice(cost, tiers.steps);
}

function progressivePrice(cost: Rational, steps: HandInputs['tiers']['steps']): Rational {
  let price = whole(0);
  let from = whole(0);
  for (const step of steps) {
    const upTo = step.upToCents === null ? cost : smaller(cost, whole(step.upToCents));
    if (less(from, upTo)) {
      price = plus(price, times(minus(upTo, from), decimal(step.factor)));
      from = upTo;
    }
  }
  return price;
}

/** The step's own factor, but never below the top price of any earlier step. */
function flatPrice(cost: Rational, steps: HandInputs['tiers']['steps']): Rational {
  const at = steps.findIndex(
    (step) => step.upToCents === null || !less(whole(step.upToCents), cost),
  );
  const step = steps[at];
  if (step === undefined) throw new Error('the last step has no upper end');
  let price = times(cost, decimal(step.factor));
  for (const earlier of steps.slice(0, at)) {
    const top = times(whole(earlier.upToCents ?? 0), decimal(earlier.factor));
    if (less(price, top)) price = top;
  }
  return price;
}
