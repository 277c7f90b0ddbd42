import type { Credit } from '../../billing/index.ts';
import { cents, visitFeeKey } from '../../pricing/index.ts';
import type { Correction } from '../rules/audit-rule.ts';
import { type Fee, feeOf } from './fee-of.ts';
import type { JobDocument } from './job-facts.ts';
import type { JobPrices } from './prices-of.ts';
import { timeOf } from './time-of.ts';

/** What is to go back of a document, before or after what is set off. */
export interface TakenOff {
  readonly document: JobDocument;
  readonly corrections: readonly Correction[];
  readonly credits: readonly Credit[];
  /** The same before what is set off. */
  readonly owed: readonly Credit[];
  /** The documents of the same visit, this one among them. */
  readonly visit: readonly JobDocument[];
}

/**
 * What is given back of the documents of one visit, less what of the visit fee was credited against
 * labor and access that would not be charged any more: without them the fee would have stood. Of the
 * credits the one on the fee itself gives way first, then the largest on labor and access, so that as
 * few lines as can be are given back in part. A fee that was not owed at all has nothing to be set off.
 */
export function lessUnearnedCredit(visit: readonly TakenOff[], prices: JobPrices): TakenOff[] {
  const fees = visit.flatMap((each) => owedFee(each, prices));
  const feeBackCents = sum(fees.map((fee) => fee.feeBackCents));
  const unearned = unearnedCents(visit, fees, feeBackCents);
  if (unearned === 0) return [...visit];
  return setOffTime(setOffFees(visit, fees, unearned), Math.max(0, unearned - feeBackCents));
}

interface OwedFee extends Fee {
  /** What would now be given back of it because of the yes. */
  readonly feeBackCents: number;
}

function owedFee(
  { document, corrections, credits, visit }: TakenOff,
  prices: JobPrices,
): OwedFee[] {
  const own = corrections.filter(({ key }) => key === visitFeeKey);
  const fee = feeOf(document, visit, prices);
  if (fee === undefined || fee.isWaived || own.some(({ notOwed }) => notOwed)) return [];
  const { leftCents } = fee.charge;
  const asPrice = own.filter(({ asFeeCredit }) => asFeeCredit !== true);
  const tooDear = leftCents - Math.min(leftCents, ...asPrice.map(({ toCents }) => toCents));
  const backCents = sum(credits.filter(({ key }) => key === visitFeeKey).map(amountOf));
  return [{ ...fee, feeBackCents: Math.max(0, backCents - tooDear) }];
}

function unearnedCents(
  visit: readonly TakenOff[],
  fees: readonly OwedFee[],
  feeBackCents: number,
): number {
  const timeBefore = sum(
    visit.flatMap((each) => timeOf(each.document)).map(({ leftCents }) => leftCents),
  );
  const timeBack = sum(visit.flatMap(timeCredits).map(amountOf));
  const givenCents = sum(fees.map(({ creditedCents }) => creditedCents));
  const uncovered = Math.max(0, givenCents + feeBackCents - (timeBefore - timeBack));
  // Labor that was given back before, as goodwill, is no matter of this correction.
  const before = Math.max(0, givenCents - timeBefore);
  return Math.max(0, Math.min(uncovered - before, timeBack + feeBackCents));
}

function setOffFees(
  visit: readonly TakenOff[],
  fees: readonly OwedFee[],
  unearned: number,
): TakenOff[] {
  let rest = unearned;
  const less = new Map<JobDocument, number>();
  for (const { document, feeBackCents } of fees) {
    const off = Math.min(rest, feeBackCents);
    less.set(document, off);
    rest -= off;
  }
  return visit.map((each) =>
    withLess(each, ({ key }) => (key === visitFeeKey ? (less.get(each.document) ?? 0) : 0)),
  );
}

function setOffTime(visit: readonly TakenOff[], unearned: number): TakenOff[] {
  let rest = unearned;
  const less = new Map<Credit, number>();
  for (const credit of visit.flatMap(timeCredits).toSorted(largestFirst)) {
    const off = Math.min(rest, credit.amountCents);
    less.set(credit, off);
    rest -= off;
  }
  return visit.map((each) => withLess(each, (credit) => less.get(credit) ?? 0));
}

function withLess(each: TakenOff, lessCents: (credit: Credit) => number): TakenOff {
  const credits = each.credits
    .map((credit) => {
      const off = lessCents(credit);
      // Unchanged ones stay the same, by which they are told apart.
      return off === 0 ? credit : { ...credit, amountCents: cents(credit.amountCents - off) };
    })
    .filter(({ amountCents }) => amountCents > 0);
  return { ...each, credits };
}

function timeCredits({ document, credits }: TakenOff): Credit[] {
  const keys = new Set(timeOf(document).map(({ line }) => line.key));
  return credits.filter(({ key }) => keys.has(key));
}

function largestFirst(one: Credit, other: Credit): number {
  return other.amountCents - one.amountCents || (one.key < other.key ? -1 : 1);
}

function amountOf({ amountCents }: Credit): number {
  return amountCents;
}

function sum(amounts: readonly number[]): number {
  return amounts.reduce((all, each) => all + each, 0);
}
