import type { OptionInputs, PricingInputs } from '../../pricing/index.ts';

type Adjustment = OptionInputs['adjustments'][number];

/** What people changed by hand on an option priced alone, by the key of the charge. */
export function adjustedByHand(
  { options }: PricingInputs,
  counts: (adjustment: Adjustment) => boolean = () => true,
): ReadonlyMap<string, number> {
  const sums = new Map<string, number>();
  for (const adjustment of options[0]?.adjustments ?? []) {
    const { aimedAt, amountCents } = adjustment;
    if (counts(adjustment)) sums.set(aimedAt, (sums.get(aimedAt) ?? 0) + amountCents);
  }
  return sums;
}
