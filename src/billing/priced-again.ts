import {
  type PricedOption,
  type PricedQuote,
  type PricingInputs,
  pricingRulesets,
} from '../pricing/index.ts';

/** What an accepted option was priced from. */
export interface PricedFrom {
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
  /** Where the option stands among those of its revision, from 0. */
  readonly optionAt: number;
}

/**
 * An accepted option priced again from its stored inputs, with what a no would have come to.
 * @throws Error when a stored price cannot be computed again
 */
export function pricedAgain({ inputs, rulesetVersion, optionAt }: PricedFrom): {
  readonly option: PricedOption;
  readonly decline: PricedQuote['decline'];
} {
  const ruleset = Object.values(pricingRulesets).find(({ version }) => version === rulesetVersion);
  const result = ruleset?.priceQuote(inputs);
  const quote = result?.outcome === 'priced' ? result.quote : undefined;
  const option = quote?.options[optionAt];
  if (quote === undefined || option === undefined) {
    throw new Error('an accepted option cannot be priced again');
  }
  return { option, decline: quote.decline };
}
