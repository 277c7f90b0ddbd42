import { type Credit, creditOn, taxOfTheRest } from '../../billing/index.ts';
import { addCents, type Cents, cents, type TaxRule } from '../../pricing/index.ts';
import type { Correction } from '../rules/audit-rule.ts';
import { chargesOf } from './charges-of.ts';
import type { JobDocument } from './job-facts.ts';
import { lessUnearnedCredit } from './less-unearned-credit.ts';

/** What would be given back of one document. */
export interface CorrectedDocument {
  readonly invoiceId: string;
  readonly position: number;
  /** Charge by charge, in the order of the document. */
  readonly credits: readonly Credit[];
  /** The tax that goes with them, or that was too much by itself. */
  readonly taxCents: Cents;
  readonly totalCents: Cents;
}

/**
 * What corrections take off the documents of a job. Of several corrections of one charge the lowest
 * counts, so that two rules that speak about one charge never give it back twice; one that is above
 * what is left of the charge takes nothing off.
 *
 * A yes credits the visit fee against labor and access. Where those are given back, what was credited
 * against them is set off, so that a bill put right comes to no less than a no would have.
 * @throws Error for a correction of a charge that no document has
 */
export function correctDocuments(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
): CorrectedDocument[] {
  refuseStrangers(documents, corrections);
  return documents.flatMap((document) => {
    const own = corrections.filter((each) => isOf(each, document));
    const corrected = own.length === 0 ? undefined : correctDocument(document, own);
    return corrected === undefined || corrected.totalCents === 0 ? [] : [corrected];
  });
}

function correctDocument(
  document: JobDocument,
  corrections: readonly Correction[],
): CorrectedDocument {
  const { invoiceId, position } = document;
  const credits = lessUnearnedCredit(document, corrections, takenOff(document, corrections));
  const taxCents = taxBack(document, corrections, credits);
  const totalCents = addCents([...credits.map(({ amountCents }) => amountCents), taxCents]);
  return { invoiceId, position, credits, taxCents, totalCents };
}

function takenOff(document: JobDocument, corrections: readonly Correction[]): Credit[] {
  const prices = corrections.filter(({ asFeeCredit }) => asFeeCredit !== true);
  const feeCredits = corrections.filter(({ asFeeCredit }) => asFeeCredit === true);
  return chargesOf(document).flatMap(({ line: { key }, leftCents }): Credit[] => {
    const tooDear = leftCents - lowest(prices, key, leftCents);
    // What a yes credits of the fee is another matter than what the fee is, so these two add.
    const uncredited = leftCents - lowest(feeCredits, key, leftCents);
    const amountCents = cents(Math.min(leftCents, tooDear + uncredited));
    return amountCents > 0 ? [{ key, amountCents }] : [];
  });
}

function lowest(corrections: readonly Correction[], key: string, leftCents: number): number {
  const to = corrections.filter((each) => each.key === key).map(({ toCents }) => toCents);
  return Math.min(leftCents, ...to);
}

/** The tax that goes with credits, and what was too much of it by itself. */
function taxBack(
  document: JobDocument,
  corrections: readonly Correction[],
  credits: readonly Credit[],
): Cents {
  const { taxLeftCents, taxInForce } = document;
  const byItself = taxLeftCents - lowest(corrections, 'tax', taxLeftCents);
  // Once the tax is put right, what goes with the credits is by the rule that puts it right.
  const rule = byItself > 0 && taxInForce ? taxInForce : document.taxing?.tax;
  const withCredits = taxWith(document, rule, credits);
  const back = Math.max(byItself + withCredits, taxLeftCents - dueAfter(document, credits), 0);
  return cents(Math.min(back, taxLeftCents));
}

/** By the rule in force, of what the credits leave; all that is left where that is not known. */
function dueAfter(
  { lines, taxing, taxInForce, credited, taxLeftCents }: JobDocument,
  credits: readonly Credit[],
): number {
  if (taxing === undefined || !taxInForce || credits.length === 0) return taxLeftCents;
  return taxOfTheRest({ lines, ...taxing, tax: taxInForce }, [...credited, ...credits]);
}

function taxWith(
  { lines, taxing, credited }: JobDocument,
  tax: TaxRule | undefined,
  credits: readonly Credit[],
): Cents {
  if (taxing === undefined || tax === undefined || credits.length === 0) return cents(0);
  const answer = creditOn({ lines, ...taxing, tax }, credited, credits);
  if (answer.outcome === 'refused') throw new Error('a correction is at most what is left');
  return answer.taxCents;
}

function refuseStrangers(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
): void {
  for (const correction of corrections) {
    const document = documents.find((each) => isOf(correction, each));
    const isKnown =
      correction.key === 'tax'
        ? document !== undefined
        : document?.lines.some(({ key }) => key === correction.key);
    if (!isKnown) throw new Error(`no document of the job charges ${correction.key}`);
  }
}

function isOf({ invoiceId, position }: Correction, document: JobDocument): boolean {
  return invoiceId === document.invoiceId && position === document.position;
}
