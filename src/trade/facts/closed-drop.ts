import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredAt, type Settled } from './measured.ts';
import { lineVoltsMin } from './supply-volts.ts';
import { fullLoad, type Load } from './under-load.ts';

/** A sound closed breaker drops some 0.1 V under load; common practice, no source. */
export const breakerDropVoltsMax = 0.3;

/** A sound connection drops millivolts under load; common practice, no source. */
export const connectionDropVolts = { raised: 0.5, burnt: 1 } as const;

export type ClosedDrop = {
  settled: Settled;
  load: Load | undefined;
  /** Why the voltage is no drop that can be judged; undefined when it is. */
  unusable: string | undefined;
};

/** The voltage across something closed in the line, which says something only under load. */
export function closedDrop(facts: Facts, point: 'breaker' | 'line_connection'): ClosedDrop {
  const settled = measuredAt(facts, point, 'voltage');
  const load = fullLoad(facts);
  if (load === undefined) {
    return {
      settled,
      load,
      unusable: 'no full load is on record, and without current nothing drops',
    };
  }
  // What takes this much from a running machine would burn within minutes.
  const isTooMuch =
    settled.kind === 'settled' && compareWithLimit(settled.measured, lineVoltsMin) !== 'below';
  const unusable = isTooMuch ? 'a machine that runs leaves no such drop: measure again' : undefined;
  return { settled, load, unusable };
}

/** Whether it drops more than the limit; undefined while that cannot be told. */
export function dropClass(
  facts: Facts,
  point: 'breaker' | 'line_connection',
  limitVolts: number,
): 'high' | 'fine' | undefined {
  const { settled, unusable } = closedDrop(facts, point);
  if (settled.kind !== 'settled' || unusable !== undefined) return undefined;
  const side = compareWithLimit(settled.measured, limitVolts);
  return side === 'within' ? undefined : side === 'above' ? 'high' : 'fine';
}
