import type { GoodsTaxClass } from '../pricing/index.ts';
import type { PartCategory } from '../trade/index.ts';

/** How a part is taxed: as the book says, and where it says nothing by what it is and how it is sold. */
export function taxClassOf(part: {
  taxClass?: GoodsTaxClass | undefined;
  measured?: unknown;
  fit: { category: PartCategory };
}): GoodsTaxClass {
  if (part.taxClass !== undefined) return part.taxClass;
  if (part.fit.category === 'outdoor_unit') return 'equipment';
  return part.measured === undefined ? 'part' : 'material';
}
