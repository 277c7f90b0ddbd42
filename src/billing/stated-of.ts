import { type PricingInputs, pricingRulesets, type Stated } from '../pricing/index.ts';

/**
 * Whether the paper of an accepted option stated prices line by line or one sum, by pricing it
 * again from its stored inputs.
 * @throws Error when a stored price cannot be computed again
 */
export function statedOf(accepted: {
  readonly inputs: PricingInputs;
  readonly rulesetVersion: string;
  readonly optionAt: number;
}): Stated {
  const { inputs, rulesetVersion, optionAt } = accepted;
  const ruleset = Object.values(pricingRulesets).find(({ version }) => version === rulesetVersion);
  const result = ruleset?.priceQuote(inputs);
  const option = result?.outcome === 'priced' ? result.quote.options[optionAt] : undefined;
  if (option === undefined) throw new Error('an accepted option cannot be priced again');
  return option.stated;
}
