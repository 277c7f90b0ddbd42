import { addCents, type Cents, cents } from '../pricing/index.ts';
import { type Credit, chargedLines } from './charged-lines.ts';
import { leftOf } from './left-of.ts';
import type { TaxedDocument } from './tax-of-the-rest.ts';

/** A document of an earlier bill with what was given back of it since. */
export interface ChargedBefore extends TaxedDocument {
  readonly credited: readonly Credit[];
}

/** What is left of each charge all of whose findings are among those, in the order of the lines. */
export function chargesFor(
  { lines, credited }: ChargedBefore,
  findingIds: readonly string[],
): Credit[] {
  return chargedLines(lines, credited)
    .filter(
      ({ line, leftCents }) =>
        leftCents > 0 &&
        line.findingIds.length > 0 &&
        line.findingIds.every((id) => findingIds.includes(id)),
    )
    .map(({ line, leftCents }) => ({ key: line.key, amountCents: leftCents }));
}

/** What charges come to with the tax that goes with them. */
export function centsOf(document: ChargedBefore, charges: readonly Credit[]): Cents {
  const { credited } = document;
  const restCents = leftOf(document, [...credited, ...charges]);
  return addCents([leftOf(document, credited), cents(-restCents)]);
}
