import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt } from './measured.ts';

/** A sound 24 V coil has some 10 to 20 ohm; from here down it is shorted. Common practice, no source. */
export const shortedCoilOhmsMax = 2;

/** Whether the isolated coil of the contactor is shorted; undefined while that cannot be told. */
export function coilOhmsClass(facts: Facts): 'short' | 'fine' | undefined {
  const settled = measuredAt(facts, 'contactor_coil', 'resistance');
  if (settled.kind !== 'settled') return undefined;
  const side = compareWithLimit(settled.measured, shortedCoilOhmsMax);
  return side === 'within' ? undefined : side === 'below' ? 'short' : 'fine';
}
