import type { Agreement, ChargeClass } from './price-book.ts';
import { chargeClassSchema } from './price-book.ts';
import { compare, ratioOf } from './ratio.ts';

/**
 * One agreement with the higher share of two on each class: what was agreed to stays until it ends,
 * and what a later book gives its members more, they get. Code and name are those agreed to.
 */
export function betterOfAgreements(agreed: Agreement, offered: Agreement): Agreement {
  const discounts = Object.fromEntries(
    chargeClassSchema.options.flatMap((chargeClass) => {
      const share = higherShare(agreed, offered, chargeClass);
      return share === undefined ? [] : [[chargeClass, share]];
    }),
  );
  return { code: agreed.code, name: agreed.name, discounts };
}

function higherShare(a: Agreement, b: Agreement, chargeClass: ChargeClass): string | undefined {
  const [one, other] = [a.discounts[chargeClass], b.discounts[chargeClass]];
  if (one === undefined || other === undefined) return one ?? other;
  return compare(ratioOf(other), ratioOf(one)) > 0 ? other : one;
}
