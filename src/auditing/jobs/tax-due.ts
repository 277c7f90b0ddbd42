import { type Credit, type TaxedDocument, taxOfTheRest } from '../../billing/index.ts';
import type { Cents, TaxRule } from '../../pricing/index.ts';
import type { JobDocument } from './job-facts.ts';
import type { JobPrices } from './prices-of.ts';
import { sameTerms } from './same-terms.ts';

/** What the tax of a document comes to by another rule, on what is left of its charges after credits. */
export function taxDue(
  document: JobDocument,
  taxing: Omit<TaxedDocument, 'lines'>,
  tax: TaxRule,
  credited: readonly Credit[],
  prices: JobPrices,
): Cents {
  const { lines } = document;
  // Whether a lump sum is taxed apart after all, the engine says.
  const stated = sameTerms(taxing.tax, tax)
    ? taxing.stated
    : (prices.underTax(document, tax)?.stated ?? tax.mode);
  return taxOfTheRest({ lines, work: taxing.work, tax, stated }, credited);
}
