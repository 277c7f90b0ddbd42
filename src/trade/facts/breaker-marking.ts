import { type BreakerFit, breakerFit } from '../electrical/circuit-sizing.ts';
import type { Facts } from './admit-evidence.ts';
import { measuredFrom, readingsAt, type Settled, settle } from './measured.ts';

/** The rating printed on the breaker, in amps; a current clamped on it is no rating. */
export function breakerMarking(facts: Facts): Settled {
  const all = readingsAt(facts, 'breaker_marking', 'current');
  const printed = all.filter(({ method }) => method === 'marking');
  if (printed.length > 0 || all.length === 0) return settle(printed.map(measuredFrom));
  const why = 'Read the rating printed on the breaker; a current measured at it is none.';
  return { kind: 'unusable', why, readingIds: all.map(({ id }) => id) };
}

/**
 * The marked breaker beside the plate's MCA and MOCP. One of the two is enough to find it too small
 * or too large, but only both say that it fits; undefined while that cannot be told.
 */
export function markedBreakerFit(facts: Facts): BreakerFit | undefined {
  const marking = breakerMarking(facts);
  if (marking.kind !== 'settled') return undefined;
  const { mcaAmps, mocpAmps } = facts.equipment.nameplate;
  const fit = breakerFit({
    breakerAmps: marking.measured.value,
    mcaAmps: mcaAmps ?? 0,
    mocpAmps: mocpAmps ?? Infinity,
  });
  const isWhole = mcaAmps !== undefined && mocpAmps !== undefined;
  return fit === 'fits' && !isWhole ? undefined : fit;
}
