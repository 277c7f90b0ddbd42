import type { GoodsTaxClass } from '../pricing/index.ts';

/** How a part is taxed: as the book says, and where it says nothing by how it is sold. */
export function taxClassOf(part: {
  taxClass?: GoodsTaxClass | undefined;
  measured?: unknown;
}): GoodsTaxClass {
  return part.taxClass ?? (part.measured === undefined ? 'part' : 'material');
}
