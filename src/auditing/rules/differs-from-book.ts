import type { ChargedLine } from '../../billing/index.ts';
import { cents, dollarsText } from '../../pricing/index.ts';
import { adjustedByHand } from '../jobs/adjusted-by-hand.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import { leftBeforeFeeCredit } from '../jobs/left-before-fee-credit.ts';
import type { PricedDocument } from '../jobs/prices-of.ts';
import { cannotJudge } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { flaggedFor } from './flagged-for.ts';
import { type Lowered, lowered } from './lowered.ts';

/**
 * What was charged is what the stored figures come to, and those are the figures of the price book
 * that was in force: minutes, the way in, costs, rates, tiers, discounts. The hours and the agreement
 * are those that were told at the call. What was charged below the book is no flag: the customer
 * gave nothing too much. Adjustments by hand have their own reason on record; only one that is on the
 * bill and was never priced counts here.
 */
export const differsFromBook: AuditRule<'differs_from_book'> = {
  code: 'differs_from_book',
  statement: 'What was charged is no more than the price book in force comes to.',
  severity: 'owed',
  source: 'Nobody types a price: it is computed from the company’s own price book',
  judge: ({ documents }, prices) => {
    if (!documents.every((document) => prices.stored(document))) return cannotJudge('price_inputs');
    const over = documents.flatMap((document) => {
      const stored = prices.stored(document);
      const byBook = prices.byBook(document);
      return [
        ...dearerThan(document, stored, 'What it was priced from comes to'),
        ...dearerThan(document, byBook === stored ? undefined : byBook, byBookWords),
      ];
    });
    const isBookKnown = documents.every((document) => prices.byBook(document));
    return over.length > 0 || isBookKnown ? flaggedFor(over) : cannotJudge('book_in_force');
  },
};

const byBookWords = 'The price book in force comes to';

/** The charges of a document that are dearer than a price has them. */
function dearerThan(
  document: JobDocument,
  priced: PricedDocument | undefined,
  words: string,
): Lowered[] {
  if (priced === undefined) return [];
  const all = compared(document, priced);
  if (all.every(({ overCents }) => overCents <= 0)) return [];
  const groups = new Map<string, ComparedCharge[]>();
  for (const charge of all) {
    const name = comparedAs(charge.line.key);
    groups.set(name, [...(groups.get(name) ?? []), charge]);
  }
  return [...groups].flatMap(([name, charges]) => {
    const own = new Set(charges.map(({ line }) => line.key));
    const elsewhere = [...priced.computedCents]
      .filter(([key]) => !own.has(key) && comparedAs(key) === name)
      .reduce((sum, [, amount]) => sum + amount, 0);
    return spread(document, charges, elsewhere, words);
  });
}

interface ComparedCharge extends ChargedLine {
  readonly chargedCents: number;
  readonly pricedCents: number;
  readonly givenBackCents: number;
  /** As it was billed, so that it does not matter what goes back first; below zero where it is cheaper. */
  readonly overCents: number;
}

function compared(document: JobDocument, priced: PricedDocument): ComparedCharge[] {
  const byHand = adjustedByHand(priced.inputs);
  return chargesOf(document).map((charge) => {
    const { key } = charge.line;
    const chargedCents = leftBeforeFeeCredit(document, charge);
    const pricedCents = (priced.computedCents.get(key) ?? 0) + (byHand.get(key) ?? 0);
    const givenBackCents = givenBackOf(document, key);
    const overCents = chargedCents + givenBackCents - pricedCents;
    return { ...charge, chargedCents, pricedCents, givenBackCents, overCents };
  });
}

function givenBackOf({ credited }: JobDocument, key: string): number {
  const own = credited.filter((each) => each.key === key && each.amountCents > 0);
  return own.reduce((sum, { amountCents }) => sum + amountCents, 0);
}

/**
 * A discount moves from one labor to another when their order changes, and the way in from one group
 * to another: they are compared as a whole, all else charge by charge.
 */
function comparedAs(key: string): string {
  if (key.startsWith('labor:')) return 'labor';
  return key.startsWith('access:') ? key.slice(0, key.lastIndexOf(':')) : key;
}

/** No more than all of them together are too dear, the most of where it is the most. */
function spread(
  document: JobDocument,
  charges: readonly ComparedCharge[],
  elsewhereCents: number,
  words: string,
): Lowered[] {
  let rest = charges.reduce((sum, { overCents }) => sum + overCents, -elsewhereCents);
  return charges.toSorted(dearestFirst).flatMap((charge) => {
    const { line, leftCents, chargedCents, pricedCents, givenBackCents } = charge;
    const tooDear = Math.max(0, Math.min(rest, charge.overCents));
    rest -= tooDear;
    const off = Math.min(tooDear - givenBackCents, leftCents);
    if (off <= 0) return [];
    const sentence = `${line.description} is charged ${dollarsText(chargedCents)} on ${document.title}. ${words} ${dollarsText(pricedCents)}.`;
    return [lowered(document, line.key, cents(leftCents - off), sentence)];
  });
}

function dearestFirst(one: ComparedCharge, other: ComparedCharge): number {
  return other.overCents - one.overCents || (one.line.key < other.line.key ? -1 : 1);
}
