import { addCents, type Cents } from './cents.ts';
import type {
  AccessLine,
  AdjustmentLine,
  CreditLine,
  DiscountLine,
  LaborLine,
  Line,
  PartLine,
  VisitFeeLine,
} from './priced-quote.ts';
import type { Ratio } from './ratio.ts';

/** A line before it knows its place on the paper. */
export type Unplaced<L extends Line> = L extends Line ? Omit<L, 'position'> : never;

/** A charge line together with everything that is aimed at it. */
export interface Charge {
  readonly line: Unplaced<VisitFeeLine | PartLine | LaborLine | AccessLine>;
  /** A rule made this line zero (reset, recall, warranty); nobody may charge it after all. */
  readonly isFree: boolean;
  /** The lowest exact amount the fair band allows; the cost of the line where that is known. */
  readonly floor: Ratio;
  readonly discounts: readonly Unplaced<DiscountLine>[];
  readonly adjustments: readonly Unplaced<AdjustmentLine>[];
  readonly credits: readonly Unplaced<CreditLine>[];
}

/** The computed price: the charge less the discounts the rules gave. */
export function computedCents(charge: Charge): Cents {
  return addCents([charge.line.amountCents, ...charge.discounts.map(amountOf)]);
}

/** What is left to pay for the charge before tax. */
export function netCents(charge: Charge): Cents {
  return addCents([
    computedCents(charge),
    ...charge.adjustments.map(amountOf),
    ...charge.credits.map(amountOf),
  ]);
}

function amountOf(line: { readonly amountCents: Cents }): Cents {
  return line.amountCents;
}
