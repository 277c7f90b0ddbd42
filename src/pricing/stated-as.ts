import { addCents, type Cents } from './cents.ts';
import { type Charge, netCents } from './charge.ts';
import type { TaxRule } from './price-book.ts';
import type { Stated } from './priced-quote.ts';
import { compare, multiply, ratioOf, wholeRatio } from './ratio.ts';

/** How charges are stated and, where a lump sum has a limit, what was held against it. */
export interface Statement {
  readonly stated: Stated;
  readonly goodsShare: GoodsShare | undefined;
}

export interface GoodsShare {
  readonly goodsCents: Cents;
  readonly chargesCents: Cents;
  readonly limit: string;
}

/**
 * Whether charges are stated separately or as one lump sum: as the tax rule says, but a lump sum
 * whose parts, materials and equipment are more than the rule's share of it is separated after
 * all. California Regulation 1546(b)(1) does so above 10 % of the total charge.
 *
 * The charges carry their discounts and adjustments, but no credit yet: the credit looks at the
 * tax, so the tax must not look at the credit.
 */
export function statedAs(charges: readonly Charge[], tax: TaxRule): Statement {
  const limit = tax.separateAboveShare;
  if (tax.mode === 'separated' || limit === undefined) {
    return { stated: tax.mode, goodsShare: undefined };
  }
  const goods = charges.filter(({ line }) => line.class === 'part');
  const goodsCents = addCents(goods.map(netCents));
  const chargesCents = addCents(charges.map(netCents));
  const limitCents = multiply(wholeRatio(chargesCents), ratioOf(limit));
  const isAbove = compare(wholeRatio(goodsCents), limitCents) > 0;
  return {
    stated: isAbove ? 'separated' : 'lump_sum',
    goodsShare: { goodsCents, chargesCents, limit },
  };
}
