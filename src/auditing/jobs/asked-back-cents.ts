import { addCents, type Cents, cents } from '../../pricing/index.ts';
import type { Correction } from '../rules/audit-rule.ts';
import { asBilled } from './as-billed.ts';
import { chargesOf } from './charges-of.ts';
import { correctDocuments } from './correct-documents.ts';
import type { JobDocument } from './job-facts.ts';
import type { JobPrices } from './prices-of.ts';

/**
 * What corrections ask to be given back, made to stand beside what the owner dismissed of the same:
 * no memo makes more of it. Of a charge that is what it comes to before the tax that goes with it, now
 * or as it was billed, whichever is less: a memo on the fee takes away what was set off, and leaves the
 * charge what it was. Of the tax itself it is what is asked for now, less what rounding it again can
 * add to it.
 */
export function askedBackCents(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
  prices: JobPrices,
): Cents {
  const asked = (all: readonly JobDocument[]) => correctDocuments(all, corrections, prices);
  const now = asked(documents);
  const chargesNow = creditedCents(now);
  if (corrections.every(({ key }) => key !== 'tax')) {
    return cents(Math.min(chargesNow, creditedCents(asked(documents.map(asBilled)))));
  }
  const taxes = addCents(now.map(({ taxCents }) => taxCents));
  const rounded = documents
    .filter((document) => corrections.some((each) => isTaxOf(each, document)))
    .reduce((sum, document) => sum + roundedAgainCents(document), 0);
  return cents(chargesNow + Math.max(0, taxes - rounded));
}

function creditedCents(corrected: ReturnType<typeof correctDocuments>): Cents {
  return addCents(
    corrected.flatMap(({ credits }) => credits.map(({ amountCents }) => amountCents)),
  );
}

function isTaxOf({ key, invoiceId, position }: Correction, document: JobDocument): boolean {
  return key === 'tax' && invoiceId === document.invoiceId && position === document.position;
}

/**
 * How much more than before two taxes may differ once a memo has both of them rounded again: each
 * amount is off by half a cent at most, before and after.
 */
function roundedAgainCents(document: JobDocument): number {
  const { taxing, taxInForce, credited } = document;
  const isRoundedAgain = credited.some(({ amountCents }) => amountCents > 0);
  if (!isRoundedAgain || taxing === undefined || !taxInForce) return 0;
  const amounts = [taxing.tax, taxInForce].map(({ basis }) =>
    basis === 'item' ? chargesOf(document).length : 1,
  );
  return amounts.reduce((sum, each) => sum + each, -1);
}
