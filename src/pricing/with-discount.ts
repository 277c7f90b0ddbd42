import { cents } from './cents.ts';
import type { Charge, Unplaced } from './charge.ts';
import type { DiscountLine } from './priced-quote.ts';

/**
 * The charge with one more discount on it, given as a positive amount; a discount of nothing makes
 * no line.
 */
export function withDiscount(
  charge: Charge,
  discount: Pick<DiscountLine, 'key' | 'code' | 'description' | 'why'> & { offCents: number },
): Charge {
  const { offCents, ...words } = discount;
  if (offCents === 0) return charge;
  const line: Unplaced<DiscountLine> = {
    kind: 'discount',
    class: charge.line.class,
    aimedAt: charge.line.key,
    amountCents: cents(-offCents),
    ...words,
  };
  return { ...charge, discounts: [...charge.discounts, line] };
}
