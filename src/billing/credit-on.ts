import { addCents, type Cents, cents } from '../pricing/index.ts';
import { type Credit, chargedLines } from './charged-lines.ts';
import { type TaxedDocument, taxOfTheRest } from './tax-of-the-rest.ts';

/** A credit with the line it is for. */
export interface CreditedLine extends Credit {
  readonly description: string;
  readonly priceClass: string;
}

export type CreditAnswer =
  | {
      readonly outcome: 'credited';
      readonly lines: readonly CreditedLine[];
      readonly taxCents: Cents;
      readonly totalCents: Cents;
    }
  | { readonly outcome: 'refused'; readonly refusals: readonly CreditRefusal[] };

export interface CreditRefusal {
  /** Which of the credits, from 0. */
  readonly at: number;
  readonly message: string;
}

/**
 * Credits on one billed document with the tax that goes with them: the tax of what was left before,
 * less the tax of what is left after, both by the document's own rule. So two credits come to what
 * one of both would, and crediting everything gives back exactly the tax that was billed.
 * @param credited what was given back before
 */
export function creditOn(
  document: TaxedDocument,
  credited: readonly Credit[],
  now: readonly Credit[],
): CreditAnswer {
  const refusals = refusalsOf(document, credited, now);
  if (refusals.length > 0) return { outcome: 'refused', refusals };
  const before = taxOfTheRest(document, credited);
  const after = taxOfTheRest(document, [...credited, ...now]);
  const taxCents = cents(before - after);
  return {
    outcome: 'credited',
    lines: now.map((credit) => ({ ...credit, ...namedLine(document, credit) })),
    taxCents,
    totalCents: addCents([...now.map(({ amountCents }) => amountCents), taxCents]),
  };
}

function refusalsOf(
  { lines }: TaxedDocument,
  credited: readonly Credit[],
  now: readonly Credit[],
): CreditRefusal[] {
  return now.flatMap(({ key, amountCents }, at) => {
    const known = chargedLines(lines, [...credited, ...now.slice(0, at)]);
    const charged = known.find(({ line }) => line.key === key);
    if (charged === undefined) return [{ at, message: 'There is no such charge to credit.' }];
    if (amountCents <= 0) return [{ at, message: 'A credit gives something back.' }];
    if (amountCents <= charged.leftCents) return [];
    return [{ at, message: 'That is more than is left of this charge.' }];
  });
}

function namedLine({ lines }: TaxedDocument, { key }: Credit) {
  const line = lines.find((each) => each.key === key);
  if (line === undefined) throw new Error(`no line ${key}`);
  return { description: line.description, priceClass: line.priceClass };
}
