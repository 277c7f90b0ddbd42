import { burdenedWage, burdenPerYear, yearlyWages } from './burdened-wage.ts';
import type { Cents } from './cents.ts';
import { type Figure, figureOf } from './figure-of.ts';
import { costPerHour, laborRateCents } from './labor-rate.ts';
import type { RateInputs, Wage } from './price-book.ts';
import { add, multiply, type Ratio, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';

/** What an hour of labor has to carry, taken apart. For the owner's eyes: it is all cost. */
export interface RateWorkshop {
  /** Null where the wage is given as one sum, which cannot be taken apart. */
  readonly wage: WageFigures | null;
  readonly burdenedWage: Figure;
  /** Per technician: what customers pay for, out of the hours that are worked. */
  readonly billableHours: Figure;
  /** Per billable hour, and `total` is their sum. */
  readonly costPerHour: {
    readonly wage: Figure;
    readonly truck: Figure;
    readonly overhead: Figure;
    readonly total: Figure;
  };
  readonly laborRateCents: Cents;
  /** What has to be put on the cost for this margin on the price: margin / (1 - margin). */
  readonly equalMarkup: Figure;
  readonly marginTakenForMarkup: MistakenRate;
  /** Billed hours a year with which one technician, truck and share of overhead are paid. */
  readonly breakEvenHours: Figure | null;
}

export interface WageFigures {
  readonly wages: Figure;
  readonly burden: readonly { readonly name: string; readonly perYear: Figure }[];
  /** Null where no wages are paid at all. */
  readonly burdenOnWages: Figure | null;
  readonly costPerPaidHour: Figure;
}

/** The common slip: the margin put on the cost leaves less of the price than was wished for. */
export interface MistakenRate {
  readonly rateCents: Cents;
  readonly marginLeft: Figure;
}

/**
 * Every step from a wage to the labor rate, and what follows from it. A what-if: nothing of it is
 * in force.
 *
 *     markup of a margin = m / (1 - m)     margin of a markup = k / (1 + k)     (first principles)
 *
 * @throws {NotCentsError} when a rate is too large to be held to the cent.
 */
export function rateWorkshop(rates: RateInputs): RateWorkshop {
  const billableHours = billableHoursOf(rates);
  const perHour = (yearlyCents: Ratio) => over(yearlyCents, billableHours);
  const wage = burdenedWage(rates);
  const truck = wholeRatio(rates.annualTruckCents);
  const overhead = over(wholeRatio(rates.annualOverheadCents), wholeRatio(rates.technicianCount));
  const cost = costPerHour(rates);
  const rateCents = laborRateCents(rates);
  return {
    wage: 'wage' in rates ? wageFigures(rates.wage, wage) : null,
    burdenedWage: figureOf(wage, 'usd_per_year'),
    billableHours: figureOf(billableHours, 'hours_per_year'),
    costPerHour: {
      wage: figureOf(perHour(wage), 'usd_per_hour'),
      truck: figureOf(perHour(truck), 'usd_per_hour'),
      overhead: figureOf(perHour(overhead), 'usd_per_hour'),
      total: figureOf(cost, 'usd_per_hour'),
    },
    laborRateCents: rateCents,
    equalMarkup: figureOf(markupOf(ratioOf(rates.margin)), 'percent'),
    marginTakenForMarkup: mistakenRate(cost, ratioOf(rates.margin)),
    breakEvenHours:
      rateCents === 0
        ? null
        : figureOf(over(multiply(cost, billableHours), wholeRatio(rateCents)), 'hours_per_year'),
  };
}

function wageFigures(wage: Wage, burdened: Ratio): WageFigures {
  const wages = yearlyWages(wage);
  const burden = add(burdened, wholeRatio(-wages));
  return {
    wages: figureOf(wholeRatio(wages), 'usd_per_year'),
    burden: wage.burden.map((each) => ({
      name: each.name,
      perYear: figureOf(burdenPerYear(each, wages), 'usd_per_year'),
    })),
    burdenOnWages: wages === 0 ? null : figureOf(over(burden, wholeRatio(wages)), 'percent'),
    costPerPaidHour: figureOf(over(burdened, wholeRatio(wage.annualPaidHours)), 'usd_per_hour'),
  };
}

function billableHoursOf(rates: RateInputs): Ratio {
  return multiply(wholeRatio(rates.annualAvailableHours), ratioOf(rates.billableFraction));
}

function markupOf(margin: Ratio): Ratio {
  return over(margin, {
    numerator: margin.denominator - margin.numerator,
    denominator: margin.denominator,
  });
}

function mistakenRate(cost: Ratio, margin: Ratio): MistakenRate {
  const onePlus = {
    numerator: margin.denominator + margin.numerator,
    denominator: margin.denominator,
  };
  return {
    rateCents: roundHalfUpToCents(multiply(cost, onePlus)),
    marginLeft: figureOf(over(margin, onePlus), 'percent'),
  };
}

/** `divisor` is above zero: the schema lets no zero hours, technicians or whole margins through. */
function over(value: Ratio, divisor: Ratio): Ratio {
  return multiply(value, { numerator: divisor.denominator, denominator: divisor.numerator });
}
