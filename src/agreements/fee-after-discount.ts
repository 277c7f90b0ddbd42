import { type Agreement, ratioOf, roundHalfUpToCents } from '../pricing/index.ts';

/**
 * What is left of a visit fee under an agreement, in cents. The discount is rounded half up as on
 * the quote, so that both say the same.
 */
export function feeAfterDiscount(feeCents: number, { discounts }: Agreement): number {
  const { numerator, denominator } = ratioOf(discounts.visit_fee ?? '0');
  return feeCents - roundHalfUpToCents({ numerator: numerator * BigInt(feeCents), denominator });
}
