import fc from 'fast-check';
import { Geodesic } from 'geographiclib-geodesic';
import { describe, expect, it } from 'vitest';
import { greatCircleMiles, type Place, travelMinutes } from '../../src/planning/index.ts';

const KM_PER_MILE = 1.609344;

const place: fc.Arbitrary<Place> = fc.record({
  latitudeDeg: fc.double({ min: -90, max: 90, noNaN: true }),
  longitudeDeg: fc.double({ min: -180, max: 180, noNaN: true }),
});

/** Within one city, in tenths of a mile. */
const cityPlace: fc.Arbitrary<Place> = fc.record({
  latitudeDeg: fc.integer({ min: 0, max: 500 }).map((tenths) => 33 + tenths / 691),
  longitudeDeg: fc.integer({ min: 0, max: 500 }).map((tenths) => -112 + tenths / 579),
});

const road = { roadFactor: 1.3, mph: 30, parkMinutes: 5 };

describe('miles as the crow flies', () => {
  // Rosetta Code, "Haversine formula": Nashville to Los Angeles, 2,887.2599506 km on a sphere of
  // radius 6,372.8 km; here of 6,371.0088 km.
  it('are what the published example of the formula gives, on our sphere', () => {
    const nashville = { latitudeDeg: 36.12, longitudeDeg: -86.67 };
    const losAngeles = { latitudeDeg: 33.94, longitudeDeg: -118.4 };
    const km = greatCircleMiles(nashville, losAngeles) * KM_PER_MILE;
    expect(km).toBeCloseTo((2_887.2599506 * 6_371.0088) / 6_372.8, 6);
  });

  // ICSM, "Geocentric Datum of Australia Technical Manual", Vincenty's formulae, sample data:
  // Flinders Peak to Buninyong, 54,972.271 m on the ellipsoid.
  it('are within 0.6 % of a surveyed line', () => {
    const flindersPeak = {
      latitudeDeg: -(37 + 57 / 60 + 3.7203 / 3600),
      longitudeDeg: 144 + 25 / 60 + 29.5244 / 3600,
    };
    const buninyong = {
      latitudeDeg: -(37 + 39 / 60 + 10.1561 / 3600),
      longitudeDeg: 143 + 55 / 60 + 35.3839 / 3600,
    };
    const km = greatCircleMiles(flindersPeak, buninyong) * KM_PER_MILE;
    expect(Math.abs(km / 54.972271 - 1)).toBeLessThan(0.006);
  });

  // C. F. F. Karney, "Algorithms for geodesics", Journal of Geodesy 87 (2013), as a library.
  it('are within 0.6 % of the ellipsoid, between any two places on Earth', () => {
    fc.assert(
      fc.property(place, place, (from, to) => {
        const { s12 } = Geodesic.WGS84.Inverse(
          from.latitudeDeg,
          from.longitudeDeg,
          to.latitudeDeg,
          to.longitudeDeg,
        );
        const ellipsoidMiles = (s12 ?? Number.NaN) / 1_000 / KM_PER_MILE;
        const off = Math.abs(greatCircleMiles(from, to) - ellipsoidMiles);
        expect(off).toBeLessThanOrEqual(0.006 * ellipsoidMiles + 1e-4);
      }),
      { numRuns: 2_000 },
    );
  });

  it('reach from pole to pole, and around the date line the short way', () => {
    const halfWay = (Math.PI * 6_371.0088) / KM_PER_MILE;
    const pole = (latitudeDeg: number) => ({ latitudeDeg, longitudeDeg: 12 });
    expect(greatCircleMiles(pole(90), pole(-90))).toBeCloseTo(halfWay, 6);
    const at = (longitudeDeg: number) => ({ latitudeDeg: 0, longitudeDeg });
    expect(greatCircleMiles(at(179.5), at(-179.5))).toBeCloseTo(halfWay / 180, 6);
  });

  it.each([
    ['north of the pole', { latitudeDeg: 90.1, longitudeDeg: 0 }],
    ['east of the date line', { latitudeDeg: 0, longitudeDeg: 180.1 }],
    ['nowhere', { latitudeDeg: Number.NaN, longitudeDeg: 0 }],
  ])('are refused to a place %s', (_, nowhere) => {
    expect(() => greatCircleMiles(nowhere, { latitudeDeg: 0, longitudeDeg: 0 })).toThrow(
      RangeError,
    );
  });
});

// Some at one point, and of some only the neighborhood is known.
const anyPlace = fc
  .record({
    place: fc.oneof(cityPlace, fc.constant({ latitudeDeg: 33.4, longitudeDeg: -112 })),
    aboutSiteId: fc.constantFrom(undefined, 'one', 'other'),
  })
  .map(({ place, aboutSiteId }): Place => (aboutSiteId ? { ...place, aboutSiteId } : place));

describe('minutes on the road', () => {
  const home = { latitudeDeg: 33.4, longitudeDeg: -112 };
  // One degree of latitude is 69.0936 miles on the sphere: 10 miles are 0.144731 degrees.
  const tenMilesNorth = { latitudeDeg: 33.4 + 10 / 69.0936, longitudeDeg: -112 };

  it.each([
    [
      'ten miles straight at 60 mph take ten minutes',
      { roadFactor: 1, mph: 60, parkMinutes: 0 },
      10,
    ],
    ['three in ten more road, half as fast', { roadFactor: 1.3, mph: 30, parkMinutes: 0 }, 26],
    ['and five to park', { roadFactor: 1.3, mph: 30, parkMinutes: 5 }, 31],
    ['a part of a minute is a minute', { roadFactor: 1.01, mph: 60, parkMinutes: 0 }, 11],
  ])('%s', (_, given, minutes) => {
    expect(travelMinutes(home, tenMilesNorth, given)).toBe(minutes);
  });

  it('are none where one stands already, parking included', () => {
    expect(travelMinutes(home, { ...home }, road)).toBe(0);
  });

  it('are a usual drive between two homes of which only the neighborhood is known', () => {
    const one = { ...home, aboutSiteId: 'one' };
    const minutes = (from: Place, to: Place) =>
      travelMinutes(from, to, { roadFactor: 1.5, mph: 30, parkMinutes: 5 });
    // Two miles as the crow flies are three of road: six minutes, and five to park.
    expect(minutes(one, { ...home, aboutSiteId: 'other' })).toBe(11);
    expect(minutes(home, one)).toBe(11);
    expect(minutes(one, { ...one })).toBe(0);
    expect(minutes(one, tenMilesNorth)).toBe(minutes(home, tenMilesNorth));
  });

  it('are the same back, and no detour is shorter than the direct way', () => {
    fc.assert(
      fc.property(
        anyPlace,
        anyPlace,
        anyPlace,
        fc.integer({ min: 0, max: 10 }),
        (a, b, c, parkMinutes) => {
          const minutes = (from: Place, to: Place) =>
            travelMinutes(from, to, { ...road, parkMinutes });
          expect(minutes(a, b)).toBe(minutes(b, a));
          expect(minutes(a, c)).toBeLessThanOrEqual(minutes(a, b) + minutes(b, c));
        },
      ),
      { numRuns: 2_000 },
    );
  });
});
