import { greatCircleMiles } from './great-circle-miles.ts';
import type { Place, Road } from './words.ts';

/** A billionth of a minute more than a whole one is the arithmetic's, not the road's. */
const ARITHMETIC_MINUTES = 1e-9;

/** What lies at least between two homes of one neighborhood, as the crow flies: a guess, no source. */
const ESTIMATED_MILES_MIN = 2;

/**
 * Minutes from door to door, rounded up to whole ones: miles x road factor / mph x 60, and the
 * minutes to park and walk in. To the place where one stands already it is 0; to or from one that
 * is only estimated it is a usual drive at least. A detour is never shorter than the direct way: the
 * great circle, the least drive and the rounding up all keep it so.
 */
export function travelMinutes(from: Place, to: Place, road: Road): number {
  if (isSame(from, to)) return 0;
  const isEstimated = from.aboutSiteId !== undefined || to.aboutSiteId !== undefined;
  const miles = Math.max(greatCircleMiles(from, to), isEstimated ? ESTIMATED_MILES_MIN : 0);
  const drivenMinutes = ((miles * road.roadFactor) / road.mph) * 60;
  return Math.ceil(drivenMinutes + road.parkMinutes - ARITHMETIC_MINUTES);
}

function isSame(from: Place, to: Place): boolean {
  return (
    from.latitudeDeg === to.latitudeDeg &&
    from.longitudeDeg === to.longitudeDeg &&
    from.aboutSiteId === to.aboutSiteId
  );
}
