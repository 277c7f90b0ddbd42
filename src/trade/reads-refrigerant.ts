import type { Reading } from './evidence.ts';

/**
 * Whether taking this reading opens the refrigerant circuit to a gauge or a hose, or weighs what
 * came out of it. Attaching and removing gauges is service under the law: 40 CFR 82.152, the
 * definition of technician.
 */
export function readsRefrigerant({ quantity }: Pick<Reading, 'quantity'>): boolean {
  return quantity === 'gauge_pressure' || quantity === 'vacuum' || quantity === 'mass';
}
