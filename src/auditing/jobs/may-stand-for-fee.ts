import type { Credit } from '../../billing/index.ts';
import { addCents } from '../../pricing/index.ts';
import { feeOf } from './fee-of.ts';
import type { JobDocument } from './job-facts.ts';
import type { JobPrices } from './prices-of.ts';
import { timeOf } from './time-of.ts';

/**
 * What is left of the labor and access of a document of a visit where it may stand only in place of the
 * visit fee: something of that time was given back, and no more is left of it at the visit than the yes
 * credited of the fee. How much of it does no bill says.
 */
export function mayStandForFee(
  document: JobDocument,
  visit: readonly JobDocument[],
  prices: JobPrices,
): Credit[] {
  if (!visit.some(isTimeGivenBack)) return [];
  const fees = visit.flatMap((each) => feeOf(each, visit, prices) ?? []);
  const credited = fees.filter(({ isWaived }) => !isWaived);
  const creditedCents = addCents(credited.map((fee) => fee.creditedCents));
  const leftCents = addCents(visit.flatMap(timeOf).map((charge) => charge.leftCents));
  if (leftCents > creditedCents) return [];
  return timeOf(document)
    .filter((charge) => charge.leftCents > 0)
    .map(({ line: { key }, leftCents: amountCents }) => ({ key, amountCents }));
}

function isTimeGivenBack(document: JobDocument): boolean {
  const keys = timeOf(document).map(({ line }) => line.key);
  return document.credited.some(({ key, amountCents }) => amountCents > 0 && keys.includes(key));
}
