import type { Line, PricedCharges, PricedOption, PricedQuote } from './priced-quote.ts';
import type { Why } from './why.ts';

/** Reasons without the owner's part. */
export type CustomerWhy = Omit<Why, 'owner'>;
export type CustomerLine = Line extends infer L
  ? L extends Line
    ? Omit<L, 'why'> & { readonly why: CustomerWhy }
    : never
  : never;
type CustomerCharges<C extends PricedCharges> = Omit<C, 'lines'> & {
  readonly lines: readonly CustomerLine[];
};
export interface CustomerQuote {
  readonly laborRateCents: PricedQuote['laborRateCents'];
  readonly laborRateWhy: CustomerWhy;
  readonly decline: CustomerCharges<PricedCharges>;
  readonly options: readonly CustomerCharges<PricedOption>[];
}

/** The quote as anyone but the owner may see it: the same amounts, no cost. */
export function forCustomer(quote: PricedQuote): CustomerQuote {
  return {
    laborRateCents: quote.laborRateCents,
    laborRateWhy: withoutOwner(quote.laborRateWhy),
    decline: { ...quote.decline, lines: quote.decline.lines.map(lineForCustomer) },
    options: quote.options.map((option) => ({
      ...option,
      lines: option.lines.map(lineForCustomer),
    })),
  };
}

/** One line as anyone but the owner may see it. */
export function lineForCustomer(line: Line): CustomerLine {
  return { ...line, why: withoutOwner(line.why) };
}

function withoutOwner({ sentence, steps }: Why): CustomerWhy {
  return { sentence, steps };
}
