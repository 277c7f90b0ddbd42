import { deadVoltsMax } from '../electrical/control-volts.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { Facts } from './admit-evidence.ts';
import { controlVoltsClass } from './control-volts-class.ts';
import { measuredAt } from './measured.ts';

/**
 * Whether the high-pressure switch passes its call, by the voltage from end to end: an open one
 * holds the whole control voltage. None across it says closed only while a call stands before it.
 */
export function highPressureSwitchPasses(facts: Facts): 'yes' | 'no' | undefined {
  const across = measuredAt(facts, 'high_pressure_switch', 'voltage');
  if (across.kind !== 'settled') return undefined;
  if (controlVoltsClass(facts, 'high_pressure_switch') === 'fine') return 'no';
  const isNone = compareWithLimit(across.measured, deadVoltsMax) === 'below';
  return isNone && controlVoltsClass(facts, 'outdoor_cooling_call') === 'fine' ? 'yes' : undefined;
}
