import type { ChargedLine, Credit } from '../../billing/index.ts';
import { addCents, cents, visitFeeKey } from '../../pricing/index.ts';
import type { Correction } from '../rules/audit-rule.ts';
import { chargesOf } from './charges-of.ts';
import type { JobDocument } from './job-facts.ts';

/**
 * What is given back of a document, less what of the visit fee was credited against labor and access
 * that would not be charged any more: without them the fee would have stood. Of the credits the one
 * on the fee itself gives way first, then the largest on labor and access, so that as few lines as
 * can be are given back in part. A fee that was not owed at all has nothing to be set off.
 */
export function lessUnearnedCredit(
  document: JobDocument,
  corrections: readonly Correction[],
  credits: readonly Credit[],
): Credit[] {
  const prices = corrections.filter(
    ({ key, asFeeCredit }) => key === visitFeeKey && asFeeCredit !== true,
  );
  if (prices.some(({ toCents }) => toCents === 0)) return [...credits];
  const feeLeft = sumOfLeft(chargesOf(document).filter(isFee));
  const tooDear = feeLeft - Math.min(feeLeft, ...prices.map(({ toCents }) => toCents));
  const onFee = sumOf(credits.filter(({ key }) => key === visitFeeKey));
  const feeBack = Math.max(0, onFee - tooDear);
  const unearned = unearnedCents(document, credits, feeBack);
  return unearned === 0 ? [...credits] : setOff(document, credits, unearned, feeBack);
}

function unearnedCents(document: JobDocument, credits: readonly Credit[], feeBack: number): number {
  const time = chargesOf(document).filter(isTime);
  const timeBefore = sumOfLeft(time);
  const timeBack = sumOf(credits.filter(isIn(time)));
  const givenCents = feeCreditOf(document);
  const uncovered = Math.max(0, givenCents + feeBack - (timeBefore - timeBack));
  // Labor that was given back before, as goodwill, is no matter of this correction.
  const before = Math.max(0, givenCents - timeBefore);
  return Math.max(0, Math.min(uncovered - before, timeBack + feeBack));
}

/** What of the fee the yes credited, as it stands on the bill. */
function feeCreditOf({ lines, credited }: JobDocument): number {
  const given = lines.filter(({ kind }) => kind === 'credit');
  // Below zero: it was cut because work was left undone.
  const cut = credited.filter(({ key, amountCents }) => key === visitFeeKey && amountCents < 0);
  return sumOf(cut) - sumOf(given);
}

function setOff(
  document: JobDocument,
  credits: readonly Credit[],
  unearned: number,
  feeBack: number,
): Credit[] {
  const less = new Map([[visitFeeKey, Math.min(unearned, feeBack)]]);
  let rest = unearned - Math.min(unearned, feeBack);
  const time = credits.filter(isIn(chargesOf(document).filter(isTime)));
  for (const { key, amountCents } of time.toSorted(largestFirst)) {
    const off = Math.min(rest, amountCents);
    less.set(key, off);
    rest -= off;
  }
  return credits
    .map(({ key, amountCents }) => ({
      key,
      amountCents: cents(amountCents - (less.get(key) ?? 0)),
    }))
    .filter(({ amountCents }) => amountCents > 0);
}

function largestFirst(one: Credit, other: Credit): number {
  return other.amountCents - one.amountCents || (one.key < other.key ? -1 : 1);
}

function isIn(charges: readonly ChargedLine[]): (credit: Credit) => boolean {
  return ({ key }) => charges.some(({ line }) => line.key === key);
}

function isTime({ line: { priceClass } }: ChargedLine): boolean {
  return priceClass === 'labor' || priceClass === 'access';
}

function isFee({ line }: ChargedLine): boolean {
  return line.key === visitFeeKey;
}

function sumOfLeft(charges: readonly ChargedLine[]): number {
  return addCents(charges.map(({ leftCents }) => leftCents));
}

function sumOf(amounts: readonly Pick<Credit, 'amountCents'>[]): number {
  return addCents(amounts.map(({ amountCents }) => amountCents));
}
