import type { RefrigerantRefusal } from './refrigerant-refusal.ts';

export type RefrigerantBuyer =
  | 'customer'
  | 'certified_technician'
  | 'employer_of_certified_technician';

/**
 * Refuses to sell or hand over refrigerant in a container, of any size, to somebody who is neither
 * a Section 608 technician nor employs one; undefined when it is allowed. Equipment that holds
 * refrigerant, and refrigerant charged into the customer's own system, are not such a sale. The
 * exemption of small self-sealing cans for cars does not arise in this trade.
 * Source: 40 CFR 82.154(c), as the EPA's page on the sales restriction explains it.
 */
export function saleRefusal(buyer: RefrigerantBuyer): RefrigerantRefusal | undefined {
  if (buyer !== 'customer') return undefined;
  return {
    code: 'sale_restricted',
    message:
      'Refrigerant is never sold or handed to a customer. Only certified technicians and their employers may buy it.',
    source: '40 CFR 82.154(c)',
  };
}
