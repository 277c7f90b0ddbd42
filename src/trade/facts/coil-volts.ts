import { controlVoltsMax } from '../electrical/control-volts.ts';
import type { Facts } from './admit-evidence.ts';
import { controlVoltsClass } from './control-volts-class.ts';
import { measuredAt } from './measured.ts';
import { sideOf } from './side-of.ts';

/** How the contactor's 24 V coil is fed; undefined for another coil and while it cannot be told. */
export function coilVoltsClass(facts: Facts): 'none' | 'low' | 'fine' | undefined {
  const fed = controlVoltsClass(facts, 'contactor_coil');
  if (fed !== 'fine') return fed;
  // Coils of 120 V and 240 V exist; what such a one needs is not known here.
  const side = sideOf(measuredAt(facts, 'contactor_coil', 'voltage'), controlVoltsMax);
  return side === 'below' ? 'fine' : undefined;
}
