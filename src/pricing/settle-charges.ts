import { addCents, type Cents, cents } from './cents.ts';
import { type Charge, netCents, type Unplaced } from './charge.ts';
import type { ChargeClass, TaxRule } from './price-book.ts';
import type { Line, PricedCharges } from './priced-quote.ts';
import type { Statement } from './stated-as.ts';
import { taxLine } from './tax-on-charges.ts';

/**
 * Charges as the lines of a paper with their tax and totals. Order: the fee, then each charge with
 * its discounts and adjustments behind it, then the credit, then the tax.
 */
export function settleCharges(
  charges: readonly Charge[],
  tax: TaxRule,
  statement: Statement,
): PricedCharges {
  const taxed = taxLine(charges, tax, statement);
  const unplaced: Unplaced<Line>[] = [
    ...charges.flatMap(({ line, discounts, adjustments }) => [line, ...discounts, ...adjustments]),
    ...charges.flatMap(({ credits }) => credits),
    taxed,
  ];
  const classTotals = totalsByClass(charges);
  return {
    lines: unplaced.map((line, at) => ({ position: at + 1, ...line })),
    classTotals,
    taxCents: taxed.amountCents,
    totalCents: addCents([...Object.values(classTotals), taxed.amountCents]),
  };
}

function totalsByClass(charges: readonly Charge[]): Record<ChargeClass, Cents> {
  const totals = { visit_fee: cents(0), part: cents(0), labor: cents(0), access: cents(0) };
  for (const charge of charges) {
    totals[charge.line.class] = cents(totals[charge.line.class] + netCents(charge));
  }
  return totals;
}
