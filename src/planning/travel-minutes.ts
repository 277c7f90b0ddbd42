import { greatCircleMiles } from './great-circle-miles.ts';
import type { Place, Road } from './words.ts';

/** A billionth of a minute more than a whole one is the arithmetic's, not the road's. */
const ARITHMETIC_MINUTES = 1e-9;

/**
 * Minutes from door to door, rounded up to whole ones: miles x road factor / mph x 60, and the
 * minutes to park and walk in. To the place where one stands already it is 0. A detour is never
 * shorter than the direct way: both the great circle and the rounding up keep it so.
 */
export function travelMinutes(from: Place, to: Place, road: Road): number {
  if (from.latitudeDeg === to.latitudeDeg && from.longitudeDeg === to.longitudeDeg) return 0;
  const drivenMinutes = ((greatCircleMiles(from, to) * road.roadFactor) / road.mph) * 60;
  return Math.ceil(drivenMinutes + road.parkMinutes - ARITHMETIC_MINUTES);
}
