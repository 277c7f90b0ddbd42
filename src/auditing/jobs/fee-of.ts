import type { ChargedLine } from '../../billing/index.ts';
import { addCents, type Cents, cents, visitFeeKey } from '../../pricing/index.ts';
import { adjustedByHand } from './adjusted-by-hand.ts';
import { chargesOf } from './charges-of.ts';
import type { JobDocument } from './job-facts.ts';
import { leftBeforeFeeCredit } from './left-before-fee-credit.ts';
import type { JobPrices } from './prices-of.ts';

/** The visit fee of a document as it stands. */
export interface Fee {
  readonly document: JobDocument;
  readonly charge: ChargedLine;
  /** What a yes credits of it by the policy, however much labor and access stay. */
  readonly dueCents: Cents;
  /** What was credited of it because of the yes: with the document, and by memos since. */
  readonly creditedCents: Cents;
  /** Memos have given back all of it, more than was too dear and than a yes credits: it was not owed. */
  readonly isWaived: boolean;
}

/**
 * The fee of a document of a visit, undefined where it has none. A memo does not say what of the fee
 * it is for: first for what it was too dear, then for what a yes credits, and the rest is goodwill.
 */
export function feeOf(
  document: JobDocument,
  ofVisit: readonly JobDocument[],
  prices: JobPrices,
): Fee | undefined {
  const charge = chargesOf(document).find(({ line }) => line.key === visitFeeKey);
  if (charge === undefined) return undefined;
  const given = document.lines.filter(({ kind, aimedAt }) => kind === 'credit' && aimedAt !== null);
  const credited = document.credited.filter(({ key }) => key === visitFeeKey);
  // Below zero: the credit was cut, because work was left undone.
  const cut = credited.filter(({ amountCents }) => amountCents < 0);
  const withYesCents = sumOf(cut) - sumOf(given);
  const memoCents = sumOf(credited.filter(({ amountCents }) => amountCents > 0));
  const dueCents = dueOf(document, ofVisit, prices);
  const tooDear = tooDearCents(document, charge, memoCents, prices);
  const forYes = Math.max(0, Math.min(memoCents - tooDear, dueCents - withYesCents));
  return {
    document,
    charge,
    dueCents,
    creditedCents: cents(withYesCents + forYes),
    isWaived: charge.leftCents === 0 && memoCents > tooDear + forYes,
  };
}

/** Above what it computes to with what was adjusted by hand, before any memo. */
function tooDearCents(
  document: JobDocument,
  charge: ChargedLine,
  memoCents: number,
  prices: JobPrices,
): number {
  const priced = prices.stored(document);
  const computed = priced?.computedCents.get(visitFeeKey);
  if (priced === undefined || computed === undefined) return 0;
  const right = computed + (adjustedByHand(priced.inputs).get(visitFeeKey) ?? 0);
  return Math.max(0, leftBeforeFeeCredit(document, charge) + memoCents - right);
}

function dueOf(document: JobDocument, ofVisit: readonly JobDocument[], prices: JobPrices): Cents {
  if (document.kind !== 'visit_fee') return pricedAs(document, prices)?.feeCreditCents ?? cents(0);
  const sold = yesBeside(document, ofVisit);
  return (sold && pricedAs(withFeeOf(document, sold), prices)?.feeCreditCents) ?? cents(0);
}

/** The quote of the same visit that somebody said yes to, where nothing there charges a fee. */
export function yesBeside(
  document: JobDocument,
  ofVisit: readonly JobDocument[],
): JobDocument | undefined {
  const sold = ofVisit.filter(({ kind }) => kind === 'accepted');
  if (document.kind !== 'visit_fee' || sold.some(chargesFee)) return undefined;
  const roots = sold.filter(({ parentQuoteId }) => (parentQuoteId ?? null) === null);
  return roots.toSorted((one, other) => ((one.quoteId ?? '') < (other.quoteId ?? '') ? -1 : 1))[0];
}

function chargesFee({ lines }: JobDocument): boolean {
  return lines.some(({ key, amountCents }) => key === visitFeeKey && amountCents > 0);
}

/** A quote as it would have been priced with the fee that stands beside it. */
function withFeeOf(fee: JobDocument, sold: JobDocument): JobDocument {
  const { price } = sold;
  const line = fee.lines.find(({ key }) => key === visitFeeKey);
  if (price === undefined || line === undefined) return sold;
  const visitFee = { chargeable: true as const, amountCents: line.amountCents };
  return { ...sold, price: { ...price, inputs: { ...price.inputs, visitFee } } };
}

function pricedAs(document: JobDocument, prices: JobPrices) {
  return prices.byBook(document) ?? prices.stored(document);
}

function sumOf(amounts: readonly { readonly amountCents: Cents }[]): number {
  return addCents(amounts.map(({ amountCents }) => amountCents));
}
