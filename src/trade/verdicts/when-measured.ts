import { type Settled, show, showValue } from '../facts/measured.ts';
import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import { conditionOfReadings } from './condition-of-readings.ts';
import type { Condition } from './weigh-together.ts';

/**
 * That a settled value lies surely above (or below) a limit; surely on the other side it fails, in
 * between or without a limit it is unknown. `what` names the value: 'voltage of the fan motor'.
 */
export function whenMeasured(
  settled: Settled,
  what: string,
  side: 'above' | 'below',
  limit: number | undefined,
): Condition {
  switch (settled.kind) {
    case 'none':
      return conditionOfReadings('unknown', `Measure the ${what}.`, []);
    case 'unusable':
      return conditionOfReadings('unknown', settled.why, settled.readingIds);
    case 'disagree':
      return conditionOfReadings('unknown', settled.why, settled.readingIds, true);
    case 'settled':
      return judge(settled.measured, what, side, limit);
  }
}

function judge(
  measured: Extract<Settled, { kind: 'settled' }>['measured'],
  what: string,
  side: 'above' | 'below',
  limit: number | undefined,
): Condition {
  const { readingIds, unit } = measured;
  const shown = `${show(measured)}, ${what}`;
  if (limit === undefined) {
    return conditionOfReadings(
      'unknown',
      `${shown}; record the nameplate to judge it.`,
      readingIds,
    );
  }
  const lies = compareWithLimit(measured, limit);
  const state = lies === 'within' ? 'unknown' : lies === side ? 'holds' : 'fails';
  const says = `${shown}; ${showValue(limit, unit)} is the limit${state === 'unknown' ? ', too near to tell' : ''}.`;
  return conditionOfReadings(state, says, readingIds);
}
