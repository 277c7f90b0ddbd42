import { type Cents, cents, ratioOf } from '../../pricing/index.ts';

/**
 * The most whole cents that are at most a price and a tolerance on it.
 *
 *     113.25 at 0.10 -> 124.57, because 124.575 is the ceiling and half a cent more is above it
 */
export function ceilingCents(priceCents: Cents, tolerance: string): Cents {
  const { numerator, denominator } = ratioOf(tolerance);
  return cents(Number((BigInt(priceCents) * (denominator + numerator)) / denominator));
}
