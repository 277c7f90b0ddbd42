import {
  addCents,
  type Cents,
  cents,
  type Line,
  type PricingInputs,
  pricingRulesets,
  type Stated,
  substituteBook,
} from '../../pricing/index.ts';
import type { JobDocument, StoredPrice } from './job-facts.ts';
import { sameTerms } from './same-terms.ts';

/**
 * The documents of one job priced again. Pricing takes longer than all rules together, so each is
 * priced when a rule first asks for it and never twice for the same inputs.
 */
export interface JobPrices {
  /** By what is stored with it; undefined where that is not known, or cannot be priced. */
  readonly stored: (document: JobDocument) => PricedDocument | undefined;
  /** By the price book in force; undefined where that is not known, or lacks what was sold. */
  readonly byBook: (document: JobDocument) => PricedDocument | undefined;
}

/** A document as the engine has it. */
export interface PricedDocument {
  readonly inputs: PricingInputs;
  /** Each charge with the discounts that the rules give, by its key. */
  readonly computedCents: ReadonlyMap<string, Cents>;
  /** What people changed by hand, by the key of the charge. */
  readonly adjustedCents: ReadonlyMap<string, Cents>;
  /** Above zero; nothing for a no. */
  readonly feeCreditCents: Cents;
  readonly stated: Stated;
}

export function pricesOf(): JobPrices {
  const stored = once(({ kind, price }: JobDocument) =>
    kind === 'bill' || price === undefined ? undefined : pricedDocument(kind, price),
  );
  const byBook = once((document: JobDocument) => {
    const { kind, price, book } = document;
    if (kind === 'bill' || price === undefined || book === undefined) return undefined;
    const alone = inputsOfOne(kind, price);
    const substitution = alone && substituteBook(alone, book);
    if (substitution?.outcome !== 'substituted') return undefined;
    if (sameTerms(alone, substitution.inputs)) return stored(document);
    return pricedDocument(kind, { ...price, inputs: substitution.inputs, optionAt: 0 });
  });
  return { stored, byBook };
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
  const lines = pricedLines(kind, inputs, price.rulesetVersion);
  // What was adjusted beyond the band is refused by the engine; the rest has its price all the same.
  return lines ?? pricedLines(kind, withoutAdjustments(inputs), price.rulesetVersion);
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

function withoutAdjustments(inputs: PricingInputs): PricingInputs {
  return { ...inputs, options: inputs.options.map((option) => ({ ...option, adjustments: [] })) };
}

function pricedLines(
  kind: JobDocument['kind'],
  inputs: PricingInputs,
  rulesetVersion: string,
): PricedDocument | undefined {
  const ruleset = Object.values(pricingRulesets).find(({ version }) => version === rulesetVersion);
  const result = ruleset?.priceQuote(inputs);
  if (result?.outcome !== 'priced') return undefined;
  const { decline, options } = result.quote;
  const [option] = options;
  if (kind === 'visit_fee') return documentOf(inputs, decline.lines, inputs.tax.mode);
  return option && documentOf(inputs, option.lines, option.stated);
}

function documentOf(inputs: PricingInputs, lines: readonly Line[], stated: Stated): PricedDocument {
  const computedCents = new Map<string, Cents>();
  const adjustedCents = new Map<string, Cents>();
  let feeCreditCents = cents(0);
  for (const line of lines) {
    if (line.kind === 'tax') continue;
    if (line.kind === 'credit') feeCreditCents = cents(feeCreditCents - line.amountCents);
    else if (line.kind === 'adjustment') addTo(adjustedCents, line.aimedAt, line.amountCents);
    else addTo(computedCents, line.kind === 'discount' ? line.aimedAt : line.key, line.amountCents);
  }
  return { inputs, computedCents, adjustedCents, feeCreditCents, stated };
}

function addTo(sums: Map<string, Cents>, key: string, amountCents: Cents): void {
  sums.set(key, addCents([sums.get(key) ?? cents(0), amountCents]));
}
