import type { Place } from './words.ts';

// The mean radius of the Earth, R1 = (2a + b) / 3 of GRS 80: H. Moritz, "Geodetic Reference System
// 1980", Journal of Geodesy 74 (2000), for the International Union of Geodesy and Geophysics.
const EARTH_RADIUS_KM = 6_371.0088;
/** Exact since the international yard and pound agreement of 1959. */
const KM_PER_MILE = 1.609344;

/**
 * Miles between two places as the crow flies, on a sphere of the Earth's mean radius, by the
 * haversine formula. The ellipsoid differs by less than 0.6 %, the road by far more.
 *
 * @throws RangeError where a place is none on Earth.
 */
export function greatCircleMiles(from: Place, to: Place): number {
  assertOnEarth(from);
  assertOnEarth(to);
  const northHalf = radians(to.latitudeDeg - from.latitudeDeg) / 2;
  const eastHalf = radians(to.longitudeDeg - from.longitudeDeg) / 2;
  const haversine =
    Math.sin(northHalf) ** 2 +
    Math.cos(radians(from.latitudeDeg)) *
      Math.cos(radians(to.latitudeDeg)) *
      Math.sin(eastHalf) ** 2;
  // At opposite points the sum may come out a hair above 1, where the arc sine has no value.
  return (2 * EARTH_RADIUS_KM * Math.asin(Math.sqrt(Math.min(1, haversine)))) / KM_PER_MILE;
}

function assertOnEarth({ latitudeDeg, longitudeDeg }: Place): void {
  // Written so that NaN fails as well.
  if (!(Math.abs(latitudeDeg) <= 90 && Math.abs(longitudeDeg) <= 180)) {
    throw new RangeError(`No place on Earth: ${latitudeDeg}, ${longitudeDeg}.`);
  }
}

function radians(degrees: number): number {
  return (degrees * Math.PI) / 180;
}
