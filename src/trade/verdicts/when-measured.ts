import { type Settled, show, showValue } from '../facts/measured.ts';
import { compareWithLimit } from './compare-with-limit.ts';
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
  const base = { readingIds: [], observationIds: [], readingsDisagree: false };
  switch (settled.kind) {
    case 'none':
      return { ...base, state: 'unknown', says: `Measure the ${what}.` };
    case 'unusable':
      return { ...base, state: 'unknown', says: settled.why, readingIds: settled.readingIds };
    case 'disagree':
      return {
        state: 'unknown',
        says: settled.why,
        readingIds: settled.readingIds,
        observationIds: [],
        readingsDisagree: true,
      };
    case 'settled':
      return { ...base, ...judge(settled.measured, what, side, limit) };
  }
}

function judge(
  measured: Extract<Settled, { kind: 'settled' }>['measured'],
  what: string,
  side: 'above' | 'below',
  limit: number | undefined,
): Pick<Condition, 'state' | 'says' | 'readingIds'> {
  const { readingIds, unit } = measured;
  const shown = `${show(measured)}, ${what}`;
  if (limit === undefined) {
    return { state: 'unknown', says: `${shown}; record the nameplate to judge it.`, readingIds };
  }
  const lies = compareWithLimit(measured, limit);
  const state = lies === 'within' ? 'unknown' : lies === side ? 'holds' : 'fails';
  const says = `${shown}; ${showValue(limit, unit)} is the limit${state === 'unknown' ? ', too near to tell' : ''}.`;
  return { state, says, readingIds };
}
