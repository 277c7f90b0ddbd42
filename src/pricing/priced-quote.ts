import type { Cents } from './cents.ts';
import type { ChargeClass, GoodsUnit } from './price-book.ts';
import type { Why } from './why.ts';

/** A quote with every amount computed and explained. */
export interface PricedQuote {
  readonly laborRateCents: Cents;
  readonly laborRateWhy: Why;
  /** What the customer owes after saying no: the visit fee and its tax. */
  readonly decline: PricedCharges;
  /** In the order of the inputs; the lines within are in canonical order. */
  readonly options: readonly PricedOption[];
}

export interface PricedOption extends PricedCharges {
  readonly title: string;
  readonly stated: Stated;
}

/**
 * Whether the paper states its prices line by line with their tax, or one sum without. It follows
 * the mode of the tax rule, but a lump sum with too many goods in it is separated after all.
 */
export type Stated = 'separated' | 'lump_sum';

export interface PricedCharges {
  readonly lines: readonly Line[];
  /** Net of discounts, adjustments and credits, before tax. */
  readonly classTotals: Readonly<Record<ChargeClass, Cents>>;
  readonly taxCents: Cents;
  readonly totalCents: Cents;
}

export type Line =
  | VisitFeeLine
  | PartLine
  | GoodLine
  | LaborLine
  | AccessLine
  | DiscountLine
  | AdjustmentLine
  | CreditLine
  | TaxLine;

export type ChargeLine = VisitFeeLine | PartLine | GoodLine | LaborLine | AccessLine;

interface LineBase {
  /** Stable: the same charge has the same key however often and in whatever order it is priced. */
  readonly key: string;
  /** From 1, without gaps. */
  readonly position: number;
  readonly code: string;
  readonly description: string;
  /** Signed: discounts and credits are negative. */
  readonly amountCents: Cents;
  readonly why: Why;
}

export interface VisitFeeLine extends LineBase {
  readonly kind: 'visit_fee';
  readonly class: 'visit_fee';
}

export interface PartLine extends LineBase {
  readonly kind: 'part';
  readonly class: 'part';
  readonly findingId: string;
  readonly systemId: string;
  readonly taskCode: string;
  readonly quantity: number;
  readonly unitPriceCents: Cents;
}

/** Goods sold by weight, length or volume: one price for the whole quantity. */
export interface GoodLine extends LineBase {
  readonly kind: 'good';
  readonly class: 'part';
  readonly findingId: string;
  readonly systemId: string;
  readonly taskCode: string;
  /** Decimal text, as it was entered. */
  readonly measured: string;
  readonly unit: GoodsUnit;
}

export interface LaborLine extends LineBase {
  readonly kind: 'labor';
  readonly class: 'labor';
  readonly findingId: string;
  readonly systemId: string;
  readonly taskCode: string;
  readonly minutes: number;
}

export interface AccessLine extends LineBase {
  readonly kind: 'access';
  readonly class: 'access';
  /** The findings of all charged tasks that need this access. */
  readonly findingIds: readonly string[];
  readonly systemId: string;
  readonly minutes: number;
}

export interface DiscountLine extends LineBase {
  readonly kind: 'discount';
  readonly class: ChargeClass;
  readonly aimedAt: string;
}

export interface AdjustmentLine extends LineBase {
  readonly kind: 'adjustment';
  readonly class: ChargeClass;
  readonly aimedAt: string;
  readonly byOwner: boolean;
}

export interface CreditLine extends LineBase {
  readonly kind: 'credit';
  readonly class: 'visit_fee';
  readonly aimedAt: string;
}

export interface TaxLine extends LineBase {
  readonly kind: 'tax';
  readonly class: 'tax';
}

/** What the engine answers. A refusal is an answer, not an exception. */
export type PricingResult =
  | { readonly outcome: 'priced'; readonly quote: PricedQuote }
  | { readonly outcome: 'refused'; readonly refusals: readonly PricingRefusal[] };

export interface PricingRefusal {
  readonly code: PricingRefusalCode;
  /** Plain words for the person who asked; holds no cost. */
  readonly message: string;
  /** JSON pointer into the pricing inputs. */
  readonly pointer: string;
}

export type PricingRefusalCode =
  | 'duplicate_finding'
  | 'duplicate_part'
  | 'duplicate_good'
  | 'rising_factors_for_goods'
  | 'adjustment_without_reason'
  | 'unknown_adjustment_target'
  | 'free_line_charged'
  | 'fee_raised'
  | 'reset_raised'
  | 'adjustment_below_zero'
  | 'adjustment_outside_fair_band'
  | 'amount_too_large';
