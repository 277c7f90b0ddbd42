import { addCents, type Cents } from './cents.ts';
import type { TaxClass } from './price-book.ts';
import type { AdjustmentLine, ChargeLine, CreditLine, DiscountLine, Line } from './priced-quote.ts';
import type { Ratio } from './ratio.ts';

/** A line before it knows its place on the paper. */
export type Unplaced<L extends Line> = L extends Line ? Omit<L, 'position'> : never;

/** A charge line together with everything that is aimed at it. */
export interface Charge {
  readonly line: Unplaced<ChargeLine>;
  /** What the tax rule sees in this line. */
  readonly taxClass: TaxClass;
  /** Why nobody, the owner included, may raise it; undefined where the fair band decides. */
  readonly fixedBy: FixedBy | undefined;
  /** The lowest exact amount the fair band allows; the cost of the line where that is known. */
  readonly floor: Ratio;
  readonly discounts: readonly Unplaced<DiscountLine>[];
  readonly adjustments: readonly Unplaced<AdjustmentLine>[];
  readonly credits: readonly Unplaced<CreditLine>[];
}

/**
 * A rule made the line zero (reset, recall, warranty); the fee is what was told at the call; the
 * line belongs to a reset, which is the fee and its materials whatever anyone thinks it is worth.
 */
export type FixedBy = 'free_line_charged' | 'fee_raised' | 'reset_raised';

/** A charge that nothing is aimed at yet. */
export function plainCharge({
  line,
  taxClass,
  fixedBy,
  floor,
}: Pick<Charge, 'line' | 'taxClass' | 'fixedBy' | 'floor'>): Charge {
  return { line, taxClass, fixedBy, floor, discounts: [], adjustments: [], credits: [] };
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
