import { goodKey, partKey } from './line-keys.ts';
import type { TaxClass } from './price-book.ts';
import type { WorkItem } from './pricing-inputs.ts';

/**
 * What the tax rule sees in a charge of an option that was priced from this work: goods are what
 * the price book classed them as then, everything else is its own class.
 * @param charge key, and class as it is stored with the line
 */
export function taxClassOfKey(
  charge: { readonly key: string; readonly priceClass: string },
  work: readonly WorkItem[],
): TaxClass {
  switch (charge.priceClass) {
    case 'visit_fee':
    case 'labor':
    case 'access':
      return charge.priceClass;
    case 'part':
      return goodsClass(charge.key, work);
    default:
      throw new Error(`${charge.key} is no charge`);
  }
}

function goodsClass(key: string, work: readonly WorkItem[]): TaxClass {
  for (const item of work) {
    const part = item.parts.find((each) => partKey(item, each) === key);
    if (part !== undefined) return part.taxClass ?? 'part';
    const good = item.goods?.find((each) => goodKey(item, each) === key);
    if (good !== undefined) return good.taxClass ?? 'part';
  }
  throw new Error(`no work sells ${key}`);
}
