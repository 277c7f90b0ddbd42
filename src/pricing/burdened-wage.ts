import type { Burden, RateInputs, Wage } from './price-book.ts';
import { add, multiply, type Ratio, ratioOf, wholeRatio } from './ratio.ts';
import { type WhyNode, whyInput, whyStep } from './why.ts';

/**
 * What one technician costs in a year, exactly: the hours paid at the hourly wage and everything
 * an employer pays on top of them. Books that knew no components give it as one sum.
 */
export function burdenedWage(rates: RateInputs): Ratio {
  if (!('wage' in rates)) return wholeRatio(rates.annualBurdenedWageCents);
  const wages = yearlyWages(rates.wage);
  return rates.wage.burden
    .map((burden) => burdenPerYear(burden, wages))
    .reduce(add, wholeRatio(wages));
}

/** The same with its reasons, component by component; for the owner's eyes. */
export function explainBurdenedWage(rates: RateInputs): WhyNode {
  const name = 'burdened wage per year';
  if (!('wage' in rates)) return whyInput(name, rates.annualBurdenedWageCents, 'cents');
  const { wage } = rates;
  const wages = yearlyWages(wage);
  const wagesStep = whyStep('wages per year', wholeRatio(wages), 'cents', [
    whyInput('wage per hour', wage.hourlyCents, 'cents_per_hour'),
    whyInput('paid hours per year', wage.annualPaidHours, 'hours'),
  ]);
  return whyStep(name, burdenedWage(rates), 'cents', [
    wagesStep,
    ...wage.burden.map((burden) => explainBurden(burden, wages, wagesStep)),
  ]);
}

/**
 * Hours paid x hourly wage, in cents. Both factors are limited by the schema to a product that a
 * number holds exactly.
 */
export function yearlyWages(wage: Wage): number {
  return wage.hourlyCents * wage.annualPaidHours;
}

/** What one component comes to in a year, exactly, in cents. */
export function burdenPerYear(burden: Burden, wagesCents: number): Ratio {
  if (burden.kind === 'yearly_amount') return wholeRatio(burden.annualCents);
  return multiply(ratioOf(burden.share), wholeRatio(wagesUnder(burden, wagesCents)));
}

function wagesUnder(burden: { onWagesUpToCents: number | null }, wagesCents: number): number {
  return Math.min(wagesCents, burden.onWagesUpToCents ?? wagesCents);
}

function explainBurden(burden: Burden, wagesCents: number, wagesStep: WhyNode): WhyNode {
  if (burden.kind === 'yearly_amount') return whyInput(burden.name, burden.annualCents, 'cents');
  const share = whyInput('share of wages', burden.share, 'ratio');
  const exact = burdenPerYear(burden, wagesCents);
  if (burden.onWagesUpToCents === null) {
    return whyStep(burden.name, exact, 'cents', [share, wagesStep]);
  }
  const under = wholeRatio(wagesUnder(burden, wagesCents));
  const counted = whyStep('the lower of wages and their limit', under, 'cents', [
    wagesStep,
    whyInput('on wages up to', burden.onWagesUpToCents, 'cents'),
  ]);
  return whyStep(burden.name, exact, 'cents', [share, counted]);
}
