import { burdenedWage, explainBurdenedWage } from './burdened-wage.ts';
import type { Cents } from './cents.ts';
import type { RateInputs } from './price-book.ts';
import { multiply, type Ratio, ratioOf } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { type Why, whyInput, whyRounding, whyStep } from './why.ts';
import { dollarsText, percentText } from './words.ts';

/**
 * What a customer pays for an hour of labor: cost per hour / (1 - margin), rounded once.
 * Margin is a share of the price: a cost of 100.00 at a margin of 20 % gives 125.00, not 120.00.
 */
export function laborRateCents(rates: RateInputs): Cents {
  return roundHalfUpToCents(exactRate(rates, costPerHour(rates)));
}

/**
 * What a billable hour costs, exactly: burdened wage and truck of one technician plus the
 * technician's share of the overhead, over available hours x billable fraction.
 */
export function costPerHour(rates: RateInputs): Ratio {
  const wage = burdenedWage(rates);
  const technicians = BigInt(rates.technicianCount);
  const perTechnician = wage.numerator + BigInt(rates.annualTruckCents) * wage.denominator;
  const overhead = BigInt(rates.annualOverheadCents) * wage.denominator;
  const billable = ratioOf(rates.billableFraction);
  const hours = BigInt(rates.annualAvailableHours) * technicians;
  return {
    numerator: (perTechnician * technicians + overhead) * billable.denominator,
    denominator: hours * billable.numerator * wage.denominator,
  };
}

export interface LaborRate {
  readonly cents: Cents;
  readonly costPerHour: Ratio;
  readonly why: Why;
}

/** The rate with its reasons: only the rounded rate is for the customer. */
export function explainLaborRate(rates: RateInputs): LaborRate {
  const cost = costPerHour(rates);
  const exact = exactRate(rates, cost);
  const rounded = roundHalfUpToCents(exact);
  const costStep = whyStep('cost per billable hour', cost, 'cents_per_hour', [
    explainBurdenedWage(rates),
    whyInput('truck per year', rates.annualTruckCents, 'cents'),
    whyInput('overhead of the company per year', rates.annualOverheadCents, 'cents'),
    whyInput('technicians', rates.technicianCount, 'count'),
    whyInput('available hours per year', rates.annualAvailableHours, 'hours'),
    whyInput('billable fraction', rates.billableFraction, 'ratio'),
  ]);
  return {
    cents: rounded,
    costPerHour: cost,
    why: {
      sentence: `An hour of labor is ${dollarsText(rounded)}.`,
      steps: [whyInput('labor rate', rounded, 'cents_per_hour')],
      owner: [
        whyRounding(`labor rate at ${percentText(rates.margin)} margin on price`, exact, rounded, [
          costStep,
          whyInput('margin', rates.margin, 'ratio'),
        ]),
      ],
    },
  };
}

function exactRate(rates: RateInputs, cost: Ratio): Ratio {
  const margin = ratioOf(rates.margin);
  return multiply(cost, {
    numerator: margin.denominator,
    denominator: margin.denominator - margin.numerator,
  });
}
