import type { Job } from '../job.ts';
import { bendPrices } from '../wrongs/bend-prices.ts';
import type { Wronged } from '../wrongs/wrong.ts';

/** A price that was wrong for a while, and was put right before anybody paid it. */
export function bendOfTurn({ turn }: Job, of: Wronged): Bend | undefined {
  return turn?.name === 'tax_put_right' && of === 'first'
    ? { bendPrice: bendPrices.otherTax }
    : undefined;
}

interface Bend {
  readonly bendPrice: typeof bendPrices.otherTax;
}
