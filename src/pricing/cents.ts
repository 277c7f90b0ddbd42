import { z } from 'zod';

/** An amount of US money in whole cents; never a fraction, never beyond what a number holds exactly. */
export const centsSchema = z.int().brand<'Cents'>();
export type Cents = z.infer<typeof centsSchema>;

/**
 * The amount as cents.
 *
 * @throws {NotCentsError} when it is no whole number or too large to be exact.
 */
export function cents(amount: number): Cents {
  if (!Number.isSafeInteger(amount)) throw new NotCentsError(amount);
  // A negative zero would print as "-0" and differ from 0 in a stored comparison.
  return (amount === 0 ? 0 : amount) as Cents;
}

/** The sum, checked after every addition, because a later one could hide an inexact step. */
export function addCents(amounts: Iterable<Cents>): Cents {
  let sum = cents(0);
  for (const amount of amounts) sum = cents(sum + amount);
  return sum;
}

export class NotCentsError extends RangeError {
  override readonly name = 'NotCentsError';

  constructor(amount: number | bigint) {
    super(`${amount} is not a whole number of cents that can be held exactly`);
  }
}
