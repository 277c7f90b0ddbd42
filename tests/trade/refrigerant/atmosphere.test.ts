import fc from 'fast-check';
import { expect, test } from 'vitest';
import { atmospherePsia } from '../../../src/trade/refrigerant/atmosphere.ts';

// US Standard Atmosphere 1976 as the ASHRAE Handbook of Fundamentals prints it, from memory.
test.each([
  [-1_000, 15.236],
  [0, 14.696],
  [1_000, 14.173],
  [5_000, 12.228],
  [10_000, 10.108],
])('at %f ft the air weighs %f psia', (altitudeFt, psia) => {
  expect(Math.abs(atmospherePsia(altitudeFt) - psia)).toBeLessThan(0.0015);
});

test('the air is thinner the higher one stands', () => {
  fc.assert(
    fc.property(
      fc.double({ min: -1_500, max: 14_000, noNaN: true }),
      fc.double({ min: 1, max: 1_000, noNaN: true }),
      (altitudeFt, higherFt) => {
        expect(atmospherePsia(altitudeFt + higherFt)).toBeLessThan(atmospherePsia(altitudeFt));
      },
    ),
  );
});
