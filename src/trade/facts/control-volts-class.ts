import { controlVoltsMin, deadVoltsMax } from '../electrical/control-volts.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { PointCode } from '../words/points.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt } from './measured.ts';

/** Whether a 24 V wire is dead, low or fed; undefined while that cannot be told. */
export function controlVoltsClass(
  facts: Facts,
  point: PointCode,
): 'none' | 'low' | 'fine' | undefined {
  const settled = measuredAt(facts, point, 'voltage');
  if (settled.kind !== 'settled') return undefined;
  const presence = compareWithLimit(settled.measured, deadVoltsMax);
  if (presence !== 'above') return presence === 'below' ? 'none' : undefined;
  const side = compareWithLimit(settled.measured, controlVoltsMin);
  if (side === 'within') return undefined;
  return side === 'above' ? 'fine' : 'low';
}
