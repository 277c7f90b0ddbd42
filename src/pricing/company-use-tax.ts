import { type Cents, cents } from './cents.ts';
import { costOfPart, explainCostOfPart } from './charge-part.ts';
import { explainExtendedCost, extendedCost } from './extended-cost.ts';
import type { TaxRule } from './price-book.ts';
import type { OptionInputs, PartUse, WorkItem } from './pricing-inputs.ts';
import { add, multiply, type Ratio, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { standsOnPaper } from './what-is-charged.ts';
import { type WhyNode, whyInput, whyRounding, whyStep } from './why.ts';

/** The tax a company owes itself on what it uses up in a lump-sum job; for the owner's eyes. */
export interface CompanyUseTax {
  readonly cents: Cents;
  readonly why: WhyNode;
}

/**
 * Under a lump sum the company is the consumer of its materials: it pays tax on their cost and
 * adds none for the customer (the pattern of 34 TAC 3.291). Rate x cost of parts and measured
 * goods, rounded once. What the manufacturer replaces under its warranty costs nothing; what a
 * recall uses up does.
 *
 * Nothing for a rule that separates. An option of a lump-sum rule that came out as separated after
 * all taxes the customer instead, so do not ask for it.
 */
export function companyUseTax(option: OptionInputs, tax: TaxRule): CompanyUseTax {
  if (tax.mode === 'separated') {
    return { cents: cents(0), why: whyInput('tax is stated to the customer', 0, 'cents') };
  }
  const costs = option.work.filter(standsOnPaper).flatMap(costsOfWork);
  const cost = costs.map(({ exact }) => exact).reduce(add, wholeRatio(0));
  const exact = multiply(cost, ratioOf(tax.rate));
  const rounded = roundHalfUpToCents(exact);
  const costStep = whyStep(
    'cost of parts and materials',
    cost,
    'cents',
    costs.map(({ why }) => why),
  );
  return {
    cents: rounded,
    why: whyRounding('tax on own materials', exact, rounded, [
      costStep,
      whyInput('tax rate', tax.rate, 'ratio'),
    ]),
  };
}

interface Cost {
  readonly exact: Ratio;
  readonly why: WhyNode;
}

function costsOfWork({ parts, goods = [] }: WorkItem): Cost[] {
  return [
    ...parts.filter(({ underManufacturerWarranty }) => !underManufacturerWarranty).map(partCost),
    ...goods.map((good) => ({ exact: extendedCost(good), why: explainExtendedCost(good) })),
  ];
}

function partCost(part: PartUse): Cost {
  return { exact: costOfPart(part), why: explainCostOfPart(part) };
}
