import type { Cents } from '../pricing/index.ts';

/** A line of a bill, as it is stored with a quote or an invoice. */
export interface BilledLine {
  readonly key: string;
  readonly kind: string;
  readonly priceClass: string;
  readonly description: string;
  /** Of discounts, adjustments and credits: the charge they take from or add to. */
  readonly aimedAt: string | null;
  readonly findingIds: readonly string[];
  readonly amountCents: Cents;
}

/**
 * One document of a bill: an accepted option, the fee of a visit without one, or what is taken off
 * an accepted option for work that was not done, which is negative.
 */
export interface BilledDocument {
  readonly kind: 'accepted' | 'visit_fee' | 'work_not_done';
  readonly lines: readonly BilledLine[];
  readonly taxCents: Cents;
  readonly totalCents: Cents;
}
