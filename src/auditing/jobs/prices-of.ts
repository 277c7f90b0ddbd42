import {
  type Cents,
  cents,
  type EarlierWork,
  type Line,
  type OtherBook,
  type PricingInputs,
  pricingRulesets,
  type Stated,
  substituteBook,
  type TaxRule,
} from '../../pricing/index.ts';
import { alikeInputs } from './alike-inputs.ts';
import type { JobDocument, StoredPrice } from './job-facts.ts';
import { keptAnswers } from './kept-answers.ts';
import { sameTerms } from './same-terms.ts';
import { withoutRefused } from './without-refused.ts';

/**
 * The documents of one job priced again. Pricing takes longer than all rules together, so each is
 * priced when a rule first asks for it, and never twice for the same inputs; of many jobs most are
 * alike but for their identifiers, and what such inputs come to is kept (`alike-inputs.ts`).
 */
export interface JobPrices {
  /** By what is stored with it; undefined where that is not known, or cannot be priced. */
  readonly stored: (document: JobDocument) => PricedDocument | undefined;
  /**
   * By the price book in force; undefined where that is not known, or lacks what was sold. Hours and
   * agreement stay as they were told.
   */
  readonly byBook: (document: JobDocument) => PricedDocument | undefined;
  /** By what is stored with it, under another tax rule; priced each time. */
  readonly underTax: (document: JobDocument, tax: TaxRule) => PricedDocument | undefined;
  /** By what is stored with it, where others had charged these ways in before; priced each time. */
  readonly afterAccess: (
    document: JobDocument,
    access: EarlierWork['access'],
  ) => PricedDocument | undefined;
}

/** A document as the engine has it. */
export interface PricedDocument {
  readonly inputs: PricingInputs;
  /** Each charge with the discounts that the rules give, by its key. */
  readonly computedCents: ReadonlyMap<string, Cents>;
  /** The minutes of each way in that it charges, by its key. */
  readonly accessMinutes: ReadonlyMap<string, number>;
  /** Above zero; nothing for a no. */
  readonly feeCreditCents: Cents;
  readonly stated: Stated;
  /** The books that come to the same, each with the hours for which that is known. */
  readonly sameBooks: SameBooks;
}

type SameBooks = WeakMap<OtherBook, Set<string>>;

export function pricesOf(): JobPrices {
  const stored = once(({ kind, price }: JobDocument) =>
    kind === 'bill' || price === undefined ? undefined : pricedDocument(kind, price),
  );
  const byBook = once((document: JobDocument) => {
    const { kind, price, book } = document;
    if (kind === 'bill' || price === undefined || book === undefined) return undefined;
    const priced = stored(document);
    if (priced !== undefined && sameHours(priced, book).has(hoursText(document))) return priced;
    const alone = inputsOfOne(kind, price);
    const substitution = alone && substituteBook(alone, asTold(book, alone, document));
    if (substitution?.outcome !== 'substituted') return undefined;
    if (sameTerms(alone, substitution.inputs)) {
      if (priced !== undefined) sameHours(priced, book).add(hoursText(document));
      return priced;
    }
    return pricedDocument(kind, { ...price, inputs: substitution.inputs, optionAt: 0 });
  });
  return { stored, byBook, underTax, afterAccess };
}

/**
 * A later book changes neither the factor of the hours, which was told at the call by the book that
 * was in force then, nor what a maintenance agreement gave: one that ended may have kept less than
 * the plan of its code gives now.
 */
function asTold(
  book: OtherBook,
  { period }: PricingInputs,
  { hours = period }: JobDocument,
): OtherBook {
  // Whatever hours a price names, those of the window are the ones it stands for.
  return { ...book, periods: new Map([[period.code, hours]]), agreements: new Map() };
}

/** The hours for which it is known that a book comes to the same as what is stored. */
function sameHours({ sameBooks }: PricedDocument, book: OtherBook): Set<string> {
  const hours = sameBooks.get(book) ?? new Set();
  sameBooks.set(book, hours);
  return hours;
}

function hoursText({ hours }: JobDocument): string {
  return hours === undefined ? 'as stored' : `${hours.code} ${hours.laborFactor}`;
}

function underTax({ kind, price }: JobDocument, tax: TaxRule): PricedDocument | undefined {
  if (kind === 'bill' || price === undefined) return undefined;
  return pricedDocument(kind, { ...price, inputs: { ...price.inputs, tax } });
}

function afterAccess(
  { kind, price }: JobDocument,
  access: EarlierWork['access'],
): PricedDocument | undefined {
  if (kind === 'bill' || price === undefined) return undefined;
  const { inputs } = price;
  const earlierWork = { labor: inputs.earlierWork?.labor ?? [], access };
  return pricedDocument(kind, { ...price, inputs: { ...inputs, earlierWork } });
}

function once<Answer>(answer: (document: JobDocument) => Answer) {
  const known = new Map<JobDocument, { readonly answer: Answer }>();
  return (document: JobDocument): Answer => {
    const first = known.get(document) ?? { answer: answer(document) };
    known.set(document, first);
    return first.answer;
  };
}

function pricedDocument(kind: JobDocument['kind'], price: StoredPrice): PricedDocument | undefined {
  const inputs = inputsOfOne(kind, price);
  if (inputs === undefined) return undefined;
  const alike = alikeInputs(inputs);
  const { charges, sameBooks } = pricedAlike(
    `${kind} ${price.rulesetVersion} ${alike.text}`,
    () => ({
      charges: withKeys(pricedCharges(kind, inputs, price.rulesetVersion), alike.sharedKey),
      sameBooks: new WeakMap(),
    }),
  );
  const own = withKeys(charges, alike.ownKey);
  return own && { inputs, ...own, sameBooks };
}

/** What inputs come to that are alike, by keys that they share. */
interface PricedAlike {
  readonly charges: PricedCharges | undefined;
  readonly sameBooks: SameBooks;
}

/** Some megabytes; a company sells fewer kinds of work at one price than this. */
const pricedAlike = keptAnswers<PricedAlike>(1_000);

function withKeys(
  charges: PricedCharges | undefined,
  keyOf: (key: string) => string,
): PricedCharges | undefined {
  if (charges === undefined) return undefined;
  const computedCents = new Map(
    [...charges.computedCents].map(([key, amount]) => [keyOf(key), amount]),
  );
  const accessMinutes = new Map(
    [...charges.accessMinutes].map(([key, minutes]) => [keyOf(key), minutes]),
  );
  return { ...charges, computedCents, accessMinutes };
}

/** The accepted option alone: others beside it change nothing in its price. */
function inputsOfOne(
  kind: JobDocument['kind'],
  { inputs, optionAt }: StoredPrice,
): PricingInputs | undefined {
  if (kind === 'visit_fee') return { ...inputs, options: [] };
  const option = inputs.options[optionAt];
  return option && { ...inputs, options: [option] };
}

/** What was adjusted beyond its band is refused by the engine; the rest has its price all the same. */
function pricedCharges(
  kind: JobDocument['kind'],
  inputs: PricingInputs,
  rulesetVersion: string,
): PricedCharges | undefined {
  const ruleset = Object.values(pricingRulesets).find(({ version }) => version === rulesetVersion);
  const result = ruleset?.priceQuote(inputs);
  if (result === undefined) return undefined;
  if (result.outcome === 'refused') {
    const fewer = withoutRefused(inputs, result.refusals);
    return fewer && pricedCharges(kind, fewer, rulesetVersion);
  }
  const { decline, options } = result.quote;
  const [option] = options;
  if (kind === 'visit_fee') return { ...chargesFrom(decline.lines), stated: inputs.tax.mode };
  return option && { ...chargesFrom(option.lines), stated: option.stated };
}

type PricedCharges = Omit<PricedDocument, 'inputs' | 'sameBooks'>;

function chargesFrom(lines: readonly Line[]): Omit<PricedCharges, 'stated'> {
  const computedCents = new Map<string, Cents>();
  const accessMinutes = new Map<string, number>();
  let feeCreditCents = cents(0);
  for (const line of lines) {
    if (line.kind === 'tax' || line.kind === 'adjustment') continue;
    if (line.kind === 'credit') {
      feeCreditCents = cents(feeCreditCents - line.amountCents);
    } else {
      const key = line.kind === 'discount' ? line.aimedAt : line.key;
      computedCents.set(key, cents((computedCents.get(key) ?? 0) + line.amountCents));
      if (line.kind === 'access') accessMinutes.set(key, line.minutes);
    }
  }
  return { computedCents, accessMinutes, feeCreditCents };
}
