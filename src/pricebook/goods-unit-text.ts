import type { GoodsUnit } from '../pricing/index.ts';

/** The unit of goods sold by measure as it is said and printed: 'lb' for `[lb_av]`. */
export function goodsUnitText(unit: GoodsUnit): string {
  return UNIT_TEXT[unit];
}

const UNIT_TEXT: Record<GoodsUnit, string> = {
  '[lb_av]': 'lb',
  '[oz_av]': 'oz',
  '[ft_i]': 'ft',
  '[in_i]': 'in',
  '[gal_us]': 'gal',
};
