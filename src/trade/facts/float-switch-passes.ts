import type { Facts } from './admit-evidence.ts';
import { controlVoltsClass } from './control-volts-class.ts';

/** Whether the float switch passes its 24 V; with none before it nothing is told of the switch. */
export function floatSwitchPasses(facts: Facts): 'yes' | 'no' | undefined {
  const after = controlVoltsClass(facts, 'float_switch_out');
  if (after === 'fine') return 'yes';
  const isFed = controlVoltsClass(facts, 'float_switch_in') === 'fine';
  return isFed && after === 'none' ? 'no' : undefined;
}
