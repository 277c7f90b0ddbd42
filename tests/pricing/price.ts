import {
  type PricedOption,
  type PricedQuote,
  type PricingResult,
  priceQuote,
  pricingInputsSchema,
} from '../../src/pricing/index.ts';
import type { HandInputs } from './oracle/price-by-hand.ts';

/** The engine's answer to plain JSON, read through the schema as the shell reads it. */
export function price(inputs: HandInputs): PricingResult {
  return priceQuote(pricingInputsSchema.parse(inputs));
}

export function priced(inputs: HandInputs): PricedQuote {
  const result = price(inputs);
  if (result.outcome === 'refused') throw new Error(JSON.stringify(result.refusals));
  return result.quote;
}

/** The only option of a quote that has one. */
export function pricedOption(inputs: HandInputs): PricedOption {
  const [option, another] = priced(inputs).options;
  if (option === undefined || another !== undefined) throw new Error('expected one option');
  return option;
}

/** Codes of what was refused, sorted; empty when it was priced. */
export function refusalCodes(inputs: HandInputs): string[] {
  const result = price(inputs);
  return result.outcome === 'priced' ? [] : result.refusals.map(({ code }) => code).sort();
}

/** Signed cents by what they are for, in the oracle's words. */
export function amountsByKey(option: PricedOption): Record<string, number> {
  const amounts: Record<string, number> = {};
  for (const line of option.lines) {
    // Several people may adjust one line, and only the sum of that is priced.
    const key = line.kind === 'adjustment' ? `adjustment:${line.aimedAt}` : line.key;
    amounts[key] = (amounts[key] ?? 0) + line.amountCents;
  }
  return amounts;
}
