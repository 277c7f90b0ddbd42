import { quantityText, thousandthsOf } from './quantity.ts';

/** How much to order of one part. */
export interface Order {
  /** In pieces, or in the book's unit. */
  quantity: string;
  /** Null for what is counted in pieces. */
  packs: number | null;
  /** Exact, however absurd. */
  costCents: bigint;
}

/**
 * What has to be ordered so that at least `orderUpTo` lie there: whole pieces or whole packs, for
 * nobody sells a part of one.
 *
 * Level 3, up to 10: 7 pieces. Level 6.5 pounds, up to 50, in packs of 25: 2 packs, 50 pounds.
 */
export function orderNeeded(
  stock: { level: string; orderUpTo: string },
  part: { costCents: number; packQuantity: string | null },
): Order {
  const missing = thousandthsOf(stock.orderUpTo) - thousandthsOf(stock.level);
  const each = thousandthsOf(part.packQuantity ?? '1');
  // Rounded up: an order that falls short is under the reorder point again too soon.
  const count = (missing + each - 1n) / each;
  return {
    quantity: quantityText(count * each),
    packs: part.packQuantity === null ? null : Number(count),
    costCents: count * BigInt(part.costCents),
  };
}
