import { type Credit, creditOn } from '../../billing/index.ts';
import { addCents, type Cents, cents } from '../../pricing/index.ts';
import type { Correction } from '../rules/audit-rule.ts';
import { billedTogether } from './billed-together.ts';
import { chargesOf } from './charges-of.ts';
import { isTimeTaxedAsFee } from './is-time-taxed-as-fee.ts';
import type { JobDocument } from './job-facts.ts';
import { lessUnearnedCredit, type TakenOff } from './less-unearned-credit.ts';
import { type JobPrices, pricesOf } from './prices-of.ts';
import { taxDue } from './tax-due.ts';
import { timeOf } from './time-of.ts';

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
 * A yes credits the visit fee against the labor and access of its visit. Where those are given back,
 * what was credited against them is set off, so that a bill put right comes to no less than a no
 * would have.
 * @throws Error for a correction of a charge that no document has
 */
export function correctDocuments(
  documents: readonly JobDocument[],
  corrections: readonly Correction[],
  prices: JobPrices = pricesOf(),
): CorrectedDocument[] {
  refuseStrangers(documents, corrections);
  if (corrections.length === 0) return [];
  const back = new Map(
    billedTogether(documents)
      .map((visit) => visit.map((document) => takenOffOf(document, visit, corrections)))
      .filter((visit) => visit.some((each) => each.corrections.length > 0))
      .flatMap((visit) => lessUnearnedCredit(visit, prices))
      .map((each) => [each.document, correctedDocument(each, prices)]),
  );
  return documents.flatMap((document) => {
    const corrected = back.get(document);
    return corrected === undefined || corrected.totalCents === 0 ? [] : [corrected];
  });
}

function takenOffOf(
  document: JobDocument,
  visit: readonly JobDocument[],
  corrections: readonly Correction[],
): TakenOff {
  const own = corrections.filter((each) => isOf(each, document));
  const credits = takenOff(document, own);
  return { document, corrections: own, credits, owed: credits, visit };
}

function correctedDocument(back: TakenOff, prices: JobPrices): CorrectedDocument {
  const { invoiceId, position } = back.document;
  const { credits } = back;
  const taxCents = taxBack(back, prices);
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

/**
 * The tax that goes with credits, or that was too much by itself: down to what the rule in force comes
 * to on the rest, and never below, so that it does not matter what goes back first. Where that rule is
 * not known, by the document's own.
 */
function taxBack(
  { document, corrections, credits, owed, visit }: TakenOff,
  prices: JobPrices,
): Cents {
  const { taxLeftCents, taxInForce, taxing, credited } = document;
  const byItself = taxLeftCents - lowest(corrections, 'tax', taxLeftCents);
  const atMost = (backCents: number) => cents(Math.max(0, Math.min(backCents, taxLeftCents)));
  if (owed.length === 0) return atMost(byItself);
  if (taxing === undefined || !taxInForce) return atMost(byItself + taxWith(document, credits));
  const asTaxed = isTimeTaxedAsFee(visit, taxInForce)
    ? credits
    : withTimeOf(document, credits, owed);
  const dueCents = taxDue(document, taxing, taxInForce, [...credited, ...asTaxed], prices);
  return atMost(taxLeftCents - dueCents);
}

/** Credits with those on labor and access as they were before anything was set off. */
function withTimeOf(
  document: JobDocument,
  credits: readonly Credit[],
  owed: readonly Credit[],
): Credit[] {
  const isTime = ({ key }: Credit) => timeOf(document).some(({ line }) => line.key === key);
  return [...credits.filter((each) => !isTime(each)), ...owed.filter(isTime)];
}

function taxWith({ lines, taxing, credited }: JobDocument, credits: readonly Credit[]): Cents {
  if (taxing === undefined) return cents(0);
  const answer = creditOn({ lines, ...taxing }, credited, credits);
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
