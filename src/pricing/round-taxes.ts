import { addCents, type Cents } from './cents.ts';
import type { TaxClass, TaxRule } from './price-book.ts';
import type { Stated } from './priced-quote.ts';
import { multiply, ratioOf, wholeRatio } from './ratio.ts';
import { roundHalfUpToCents } from './round-half-up-to-cents.ts';
import { taxClassWords } from './words.ts';

/** What a tax rule looks at: an amount net of all that is aimed at it, and its class. */
export interface TaxableAmount {
  readonly on: string;
  readonly taxClass: TaxClass;
  readonly netCents: Cents;
}

/** One amount that tax falls on, with its tax. */
export interface RoundedTax {
  readonly on: string;
  readonly baseCents: Cents;
  readonly taxCents: Cents;
}

/**
 * The tax on amounts, one rounding for each base: their sum (invoice basis), or each of them (item
 * basis). None on a job that is stated as a lump sum.
 */
export function roundTaxes(
  amounts: readonly TaxableAmount[],
  tax: TaxRule,
  stated: Stated,
): RoundedTax[] {
  if (stated === 'lump_sum') return [];
  const taxed = amounts.filter(({ taxClass }) => tax.taxableClasses.includes(taxClass));
  const bases =
    tax.basis === 'item'
      ? taxed.map(({ on, netCents }) => ({ on, baseCents: netCents }))
      : [{ on: classWords(tax), baseCents: addCents(taxed.map(({ netCents }) => netCents)) }];
  const rate = ratioOf(tax.rate);
  return bases
    .filter(({ baseCents }) => baseCents !== 0)
    .map(({ on, baseCents }) => ({
      on,
      baseCents,
      taxCents: roundHalfUpToCents(multiply(wholeRatio(baseCents), rate)),
    }));
}

/** In the order of the paper, however the rule lists them. */
function classWords(tax: TaxRule): string {
  return paperOrder
    .filter((taxClass) => tax.taxableClasses.includes(taxClass))
    .map((taxClass) => taxClassWords[taxClass])
    .join(', ');
}

const paperOrder = ['visit_fee', 'part', 'material', 'equipment', 'labor', 'access'] as const;
