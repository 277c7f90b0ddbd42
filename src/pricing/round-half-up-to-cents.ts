import { type Cents, cents, NotCentsError } from './cents.ts';
import type { Ratio } from './ratio.ts';

/**
 * The nearest whole cent; an exact half goes up, that is toward plus infinity.
 *
 *     7.4675 -> 7     7.5 -> 8     7.51 -> 8     14.5 -> 15     0.49 -> 0
 *    -7.4675 -> -7   -7.5 -> -7   -7.51 -> -8   -14.5 -> -14   -0.49 -> 0
 *
 * Discounts and credits are rounded as positive amounts and then subtracted, so that 7.5 off is 8
 * off; rounding -7.5 here would give the customer only 7. This is the rule of SSUTA section 324
 * (look at the third decimal only, up when it is more than 4) for amounts that are not negative.
 *
 * @throws {NotCentsError} when the result is too large to be exact.
 */
export function roundHalfUpToCents(exactCents: Ratio): Cents {
  const twice = 2n * exactCents.denominator;
  const raised = 2n * exactCents.numerator + exactCents.denominator;
  // Division of bigints drops the fraction toward zero, which below zero is one too high.
  const quotient = raised / twice;
  const rounded = raised < 0n && quotient * twice !== raised ? quotient - 1n : quotient;
  const amount = Number(rounded);
  if (!Number.isSafeInteger(amount)) throw new NotCentsError(rounded);
  return cents(amount);
}
