import type { PaperAmount } from './paper-parts.ts';
import { PaperRefused } from './paper-refused.ts';

/**
 * Sums in whole cents beyond what a double holds exactly, so that no amount can hide in rounding.
 * @throws PaperRefused with one sentence that names the place and both amounts
 */
export function assertSum(
  place: string,
  amounts: readonly PaperAmount[],
  totalCents: number,
): void {
  let sumCents = 0n;
  for (const { label, amountCents } of amounts) {
    if (!Number.isSafeInteger(amountCents)) {
      throw new PaperRefused(`${place}: '${label}' is not a whole number of cents.`);
    }
    sumCents += BigInt(amountCents);
  }
  if (!Number.isSafeInteger(totalCents)) {
    throw new PaperRefused(`${place}: the total is not a whole number of cents.`);
  }
  if (sumCents !== BigInt(totalCents)) {
    throw new PaperRefused(
      `${place}: the lines come to ${sumCents} cents, the paper says ${totalCents}.`,
    );
  }
}
