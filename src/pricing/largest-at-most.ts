import { type Cents, cents } from './cents.ts';

/**
 * The largest whole number from 0 to `most` that is allowed, or 0. What is allowed must be allowed
 * for every smaller number too, as when a larger credit never raises a total.
 */
export function largestAtMost(most: Cents, isAllowed: (amountCents: number) => boolean): Cents {
  if (isAllowed(most)) return most;
  let allowed = 0;
  let refused: number = most;
  while (refused - allowed > 1) {
    const middle = Math.floor((allowed + refused) / 2);
    if (isAllowed(middle)) allowed = middle;
    else refused = middle;
  }
  return cents(allowed);
}
