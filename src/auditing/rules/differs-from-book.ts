import type { ChargedLine } from '../../billing/index.ts';
import { type Cents, cents, dollarsText } from '../../pricing/index.ts';
import { adjustedByHand } from '../jobs/adjusted-by-hand.ts';
import { chargesOf } from '../jobs/charges-of.ts';
import type { JobDocument } from '../jobs/job-facts.ts';
import { leftBeforeFeeCredit } from '../jobs/left-before-fee-credit.ts';
import type { JobPrices, PricedDocument } from '../jobs/prices-of.ts';
import { cannotJudge } from './answers.ts';
import type { AuditRule } from './audit-rule.ts';
import { causesOfDifference } from './causes-of-difference.ts';
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
    const over = documents.flatMap((document) => tooDear(document, prices));
    const isBookKnown = documents.every((document) => prices.byBook(document));
    return over.length > 0 || isBookKnown ? flaggedFor(over) : cannotJudge('book_in_force');
  },
};

/**
 * The charges of a document that are too dear, each once: what is compared together is held against
 * what it was priced from or against the book, whichever is lower as a whole, so that of two labors
 * not one is lowered by the one and the other by the other.
 */
function tooDear(document: JobDocument, prices: JobPrices): Lowered[] {
  const stored = prices.stored(document);
  if (stored === undefined) return [];
  const book = prices.byBook(document);
  const byPrice = groupsOf(document, stored);
  const byBook = book === undefined || book === stored ? undefined : groupsOf(document, book);
  return [...byPrice].flatMap(([name, group]) => {
    const other = byBook?.get(name);
    const isByBook = other !== undefined && other.overCents > group.overCents;
    return spread(document, isByBook ? other : group, {
      stored,
      ...(isByBook && book !== undefined && { book }),
    });
  });
}

/** Charges that are compared as a whole. */
interface Group {
  readonly charges: readonly ComparedCharge[];
  readonly overCents: number;
}

function groupsOf(document: JobDocument, priced: PricedDocument): ReadonlyMap<string, Group> {
  const groups = new Map<string, ComparedCharge[]>();
  for (const charge of compared(document, priced)) {
    const name = comparedAs(charge.line.key);
    groups.set(name, [...(groups.get(name) ?? []), charge]);
  }
  return new Map(
    [...groups].map(([name, charges]) => {
      const own = new Set(charges.map(({ line }) => line.key));
      const elsewhere = [...priced.computedCents]
        .filter(([key]) => !own.has(key) && comparedAs(key) === name)
        .reduce((sum, [, amount]) => sum + amount, 0);
      const overCents = charges.reduce((sum, charge) => sum + charge.overCents, -elsewhere);
      return [name, { charges, overCents }];
    }),
  );
}

interface ComparedCharge extends ChargedLine {
  readonly chargedCents: Cents;
  readonly pricedCents: Cents;
  readonly givenBackCents: number;
  /** As it was billed, so that it does not matter what goes back first; below zero where it is cheaper. */
  readonly overCents: number;
}

function compared(document: JobDocument, priced: PricedDocument): ComparedCharge[] {
  const byHand = adjustedByHand(priced.inputs);
  return chargesOf(document).map((charge) => {
    const { key } = charge.line;
    const chargedCents = leftBeforeFeeCredit(document, charge);
    const pricedCents = cents((priced.computedCents.get(key) ?? 0) + (byHand.get(key) ?? 0));
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

/** The prices that charges are held against: the book's where that is the lower one. */
interface HeldAgainst {
  readonly stored: PricedDocument;
  readonly book?: PricedDocument;
}

/** No more than all of them together are too dear, the most of where it is the most. */
function spread(
  document: JobDocument,
  { charges, overCents }: Group,
  against: HeldAgainst,
): Lowered[] {
  let rest = overCents;
  return charges.toSorted(dearestFirst).flatMap((charge) => {
    const { line, leftCents, givenBackCents } = charge;
    const tooDear = Math.max(0, Math.min(rest, charge.overCents));
    rest -= tooDear;
    const off = cents(Math.min(tooDear - givenBackCents, leftCents));
    if (off <= 0) return [];
    const lessElsewhere = cents(charge.overCents - tooDear);
    const sentence = sentenceOf(document, charge, against, { off, lessElsewhere });
    return [lowered(document, line.key, cents(leftCents - off), sentence)];
  });
}

/** The money first, then what it was priced at, and why the book comes to less. */
function sentenceOf(
  { title }: JobDocument,
  { line: { key, description }, chargedCents, pricedCents }: ComparedCharge,
  { stored, book }: HeldAgainst,
  { off, lessElsewhere }: { off: Cents; lessElsewhere: Cents },
): string {
  const was = wasPriced(key, stored);
  const told = `${dollarsText(off)} too much: ${description} is charged ${dollarsText(chargedCents)} on ${title}`;
  const others = othersText(key, lessElsewhere);
  if (book === undefined) return `${told} and ${was.words}.${others}`;
  const before = was.cents === chargedCents ? '' : `, ${was.words}`;
  const causes = causesOfDifference(key, stored, book);
  const why = causes.length === 0 ? '' : `: ${causes.join('; ')}`;
  return `${told}${before} and comes to ${dollarsText(pricedCents)} by the price book in force${why}.${others}`;
}

function wasPriced(key: string, { inputs, computedCents }: PricedDocument) {
  const computed = computedCents.get(key);
  if (computed === undefined) return { cents: undefined, words: 'was never priced' };
  const priced = cents(computed + (adjustedByHand(inputs).get(key) ?? 0));
  return { cents: priced, words: `was priced at ${dollarsText(priced)}` };
}

function othersText(key: string, lessElsewhere: Cents): string {
  if (lessElsewhere <= 0) return '';
  const others = key.startsWith('labor:') ? 'Other labor' : 'Another way in';
  return ` ${others} there is charged ${dollarsText(lessElsewhere)} less than it comes to.`;
}

function dearestFirst(one: ComparedCharge, other: ComparedCharge): number {
  return other.overCents - one.overCents || (one.line.key < other.line.key ? -1 : 1);
}
