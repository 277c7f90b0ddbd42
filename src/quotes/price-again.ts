import {
  type PricedQuote,
  type PricingInputs,
  pricingInputsSchema,
  pricingRulesets,
} from '../pricing/index.ts';

/** A stored price computed again, or why that cannot be done any more. */
export type PricedAgain =
  | { readonly outcome: 'priced'; readonly inputs: PricingInputs; readonly quote: PricedQuote }
  | { readonly outcome: 'impossible'; readonly reason: string };

/**
 * Computes a price again from its stored inputs under the rules it was made by. What cannot be read
 * or priced any more is an answer, never an exception.
 */
export function priceAgain(storedInputs: unknown, rulesetVersion: string): PricedAgain {
  const ruleset = Object.values(pricingRulesets).find(({ version }) => version === rulesetVersion);
  if (ruleset === undefined) return impossible(`there are no rules of version ${rulesetVersion}`);
  const read = pricingInputsSchema.safeParse(storedInputs);
  if (!read.success) {
    const [issue] = read.error.issues;
    const place = issue === undefined ? '' : `: ${issue.path.join('.')} ${issue.message}`;
    return impossible(`its stored inputs cannot be read${place}`);
  }
  try {
    const result = ruleset.priceQuote(read.data);
    if (result.outcome === 'priced') {
      return { outcome: 'priced', inputs: read.data, quote: result.quote };
    }
    return impossible(`the rules refuse it: ${result.refusals.map(({ code }) => code).join(', ')}`);
  } catch (error) {
    return impossible(`the rules fail on it: ${error instanceof Error ? error.message : error}`);
  }
}

/**
 * The same for a price that this program has stored and shows: it must come out.
 * @throws Error when it does not
 */
export function mustPriceAgain(storedInputs: unknown, rulesetVersion: string) {
  const again = priceAgain(storedInputs, rulesetVersion);
  if (again.outcome === 'priced') return again;
  throw new Error(`a stored price cannot be computed again: ${again.reason}`);
}

function impossible(reason: string): PricedAgain {
  return { outcome: 'impossible', reason };
}
