import {
  currentPricingRuleset,
  decimalText,
  type MissingFromBook,
  type OtherBook,
  type PricingInputs,
  type PricingRulesetVersion,
  pricingRulesets,
  substituteBook,
} from '../../pricing/index.ts';
import type { PreviewedOption } from './contract.ts';

/** An issued revision with what its price depends on, as stored. */
export interface IssuedRevision {
  inputs: PricingInputs;
  rulesetVersion: PricingRulesetVersion;
  options: { position: number; title: string; totalCents: number }[];
}

/**
 * The options of an issued quote as they were told, and as they would be under another book. Each
 * is priced by itself: one that the other book cannot price keeps no other from being priced.
 */
export function priceUnder(revision: IssuedRevision, book: OtherBook): PreviewedOption[] {
  const told = pricingRulesets[revision.rulesetVersion].priceQuote(revision.inputs);
  return revision.options.map((stored, at) => {
    const { position, title, totalCents } = stored;
    const option = { position, title, oldTotalCents: totalCents };
    const again = told.outcome === 'priced' ? told.quote.options[at]?.totalCents : undefined;
    if (again !== totalCents) return notPriced(option, 'not_as_stored', [NOT_AS_STORED]);
    return underBook(option, onlyOption(revision.inputs, at), book);
  });
}

type Told = Pick<PreviewedOption, 'position' | 'title' | 'oldTotalCents'>;

function underBook(option: Told, inputs: PricingInputs, book: OtherBook): PreviewedOption {
  const substitution = substituteBook(inputs, book);
  if (substitution.outcome === 'missing') {
    return notPriced(option, 'missing_in_draft', substitution.missing.map(missingText));
  }
  const result = currentPricingRuleset.priceQuote(substitution.inputs);
  if (result.outcome === 'refused') {
    return notPriced(
      option,
      'refused_by_rule',
      result.refusals.map(({ message }) => message),
    );
  }
  const newTotalCents = result.quote.options[0]?.totalCents ?? 0;
  const differenceCents = newTotalCents - option.oldTotalCents;
  return {
    ...option,
    newTotalCents,
    differenceCents,
    percent: percentOf(differenceCents, option.oldTotalCents),
    notPriced: null,
  };
}

function notPriced(
  option: Told,
  reason: NonNullable<PreviewedOption['notPriced']>['reason'],
  messages: string[],
): PreviewedOption {
  const none = { newTotalCents: null, differenceCents: null, percent: null };
  return { ...option, ...none, notPriced: { reason, messages } };
}

function onlyOption(inputs: PricingInputs, at: number): PricingInputs {
  return { ...inputs, options: inputs.options.slice(at, at + 1) };
}

/** To two digits, an exact half away from zero; null of nothing. */
function percentOf(differenceCents: number, totalCents: number): string | null {
  if (totalCents <= 0) return null;
  const percent = { numerator: BigInt(differenceCents) * 100n, denominator: BigInt(totalCents) };
  return decimalText(percent, 2).text;
}

function missingText({ what, code }: MissingFromBook): string {
  if (what === 'measure') return `The draft sells "${code}" by another measure.`;
  return `The draft has no ${what} "${code}".`;
}

const NOT_AS_STORED = 'Its stored inputs do not give the stored total any more.';
