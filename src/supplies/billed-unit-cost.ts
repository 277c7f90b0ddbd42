/** As much as the price book can hold for a piece or a pack. */
export const UNIT_COST_CENTS_MAX = 2_000_000_000;

/**
 * What a bill's line charged for a piece, or for a pack of measured goods, in cents, an exact half
 * up: SQL over a line `l` and its part `p` of a price book. Of what went back, quantity and amount
 * are both negative, so it comes out the same. Freight and tax are on no line and not in it.
 */
export const BILLED_UNIT_COST_CENTS = `
  div(2 * l.amount_cents::numeric * coalesce(p.pack_quantity, 1) + l.quantity, 2 * l.quantity)`;
