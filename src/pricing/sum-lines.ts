import { addCents, type Cents } from './cents.ts';

/**
 * The total of any lines of a paper; the tax is one of them.
 *
 * @throws {NotCentsError} when the sum is too large to be exact.
 */
export function sumLines(lines: readonly { readonly amountCents: Cents }[]): Cents {
  return addCents(lines.map(({ amountCents }) => amountCents));
}
