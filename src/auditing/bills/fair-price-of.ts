import {
  cents,
  currentPricingRuleset,
  type PricedOption,
  type PricingInputs,
  type TaxRule,
  type WorkItem,
} from '../../pricing/index.ts';
import type { FairPrice } from '../jobs/job-facts.ts';
import type { FairBook, FairPeriod } from './fair-book.ts';
import { workItemOf } from './work-item-of.ts';
import type { WorkWithParts } from './work-with-parts.ts';

/** By what a fair price is computed. */
export interface FairTerms {
  readonly book: FairBook;
  readonly period: FairPeriod;
  /** The others in which it may have been, where nobody knows when somebody came. */
  readonly orPeriods?: readonly FairPeriod[];
  /** The fee that the bill states is what tells the period. */
  readonly isByFee?: true;
  /** Where it belongs into the price; none where it is told apart. */
  readonly tax?: TaxRule;
  /** Kept by who prices many bills by one book, so that thousands that say the same are priced once. */
  readonly priced?: Map<string, FairAnswer>;
}

export type FairAnswer =
  | { readonly outcome: 'priced'; readonly fair: FairPrice }
  | { readonly outcome: 'not_priced'; readonly reasons: readonly string[] };

/**
 * What our price book and policy come to for the work that a bill tells of: the visit fee, its
 * credit, labor, access and parts, by the engine that prices our own quotes. Where the bill leaves a
 * choice, whoever billed has the benefit of it, and the choice is put in words.
 */
export function fairPriceOf(work: readonly WorkWithParts[], terms: FairTerms): FairAnswer {
  const { priced, period, orPeriods, tax } = terms;
  if (priced === undefined) return inDearestPeriod(work, terms);
  const key = JSON.stringify([work, period, orPeriods, tax]);
  const before = priced.get(key);
  if (before !== undefined) return before;
  const answer = inDearestPeriod(work, terms);
  priced.set(key, answer);
  return answer;
}

/** Of the hours in which somebody may have come, those that come to most, beside the cheapest. */
function inDearestPeriod(
  work: readonly WorkWithParts[],
  { orPeriods = [], ...terms }: FairTerms,
): FairAnswer {
  const answer = priceAnew(work, terms);
  if (answer.outcome === 'not_priced' || orPeriods.length === 0) return answer;
  const others = orPeriods.flatMap((period) => {
    const other = priceAnew(work, { ...terms, period });
    return other.outcome === 'priced' ? [other.fair] : [];
  });
  const fair = others.reduce(dearer, answer.fair);
  const totals = [answer.fair, ...others].map(({ option }) => option.totalCents);
  return { outcome: 'priced', fair: { ...fair, fromCents: cents(Math.min(...totals)) } };
}

function dearer(one: FairPrice, other: FairPrice): FairPrice {
  return other.option.totalCents > one.option.totalCents ? other : one;
}

function priceAnew(work: readonly WorkWithParts[], terms: FairTerms): FairAnswer {
  const items: WorkItem[] = [];
  const choices: string[] = [];
  const reasons: string[] = [];
  work.forEach((each, at) => {
    const made = dearestItem(each, `work-${at + 1}`, terms);
    if (made.outcome === 'not_made') reasons.push(made.reason);
    else {
      items.push(made.item);
      choices.push(...made.choices);
    }
  });
  if (reasons.length > 0) return { outcome: 'not_priced', reasons };
  const priced = priceOf(items, terms);
  if (priced === undefined) return { outcome: 'not_priced', reasons: [NOT_PRICED] };
  const { option, inputs } = priced;
  const price = { inputs, rulesetVersion: currentPricingRuleset.version, optionAt: 0 };
  const taskCodes = items.map(({ taskCode }) => taskCode);
  return { outcome: 'priced', fair: { option, price, taskCodes, choices } };
}

const NOT_PRICED = 'The price book cannot price this work.';

/** Of the tasks that it may have been, the one that comes to most. */
function dearestItem(work: WorkWithParts, findingId: string, terms: FairTerms) {
  const answers = work.taskCodes.map((task) => workItemOf(work, task, terms.book, findingId));
  const made = answers.flatMap((answer) => (answer.outcome === 'made' ? [answer] : []));
  const [first, ...others] = made;
  if (first === undefined) {
    const refused = answers.find((answer) => answer.outcome === 'not_made');
    return refused ?? ({ outcome: 'not_made', reason: NOT_PRICED } as const);
  }
  if (others.length === 0) return first;
  const dearest = others.reduce(
    (most, each) => (totalOf(each.item, terms) > totalOf(most.item, terms) ? each : most),
    first,
  );
  return { ...dearest, choices: [dearestTask(dearest.item), ...dearest.choices] };
}

function totalOf(item: WorkItem, terms: FairTerms): number {
  return priceOf([item], terms)?.option.totalCents ?? 0;
}

function dearestTask({ taskName }: WorkItem): string {
  return `The bill leaves open which task it was: of those it may have been, the dearest is taken, “${taskName}”.`;
}

function priceOf(
  work: WorkItem[],
  { book, period, tax = untaxed }: FairTerms,
): { option: PricedOption; inputs: PricingInputs } | undefined {
  const { rates, tiers, policy } = book;
  const { code, laborFactor, visitFeeCents } = period;
  const inputs: PricingInputs = {
    rates,
    tiers,
    policy,
    period: { code, laborFactor },
    visitFee: { chargeable: true, amountCents: cents(visitFeeCents) },
    tax,
    options: [{ title: 'By our price book', work, adjustments: [] }],
  };
  const result = currentPricingRuleset.priceQuote(inputs);
  const [option] = result.outcome === 'priced' ? result.quote.options : [];
  return option && { option, inputs };
}

/** The engine taxes by a rule; this one taxes nothing. */
const untaxed: TaxRule = {
  jurisdiction: 'none',
  name: 'No tax',
  rate: '0',
  taxableClasses: [],
  mode: 'separated',
  basis: 'invoice',
};
