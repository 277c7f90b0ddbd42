import fc from 'fast-check';
import { expect, test } from 'vitest';
import {
  chargeByWeightOz,
  lineAddersOzPerFt,
} from '../../../src/trade/refrigerant/charge-by-weight.ts';

const r410a = lineAddersOzPerFt['R-410A'];
const r32 = lineAddersOzPerFt['R-32'];

// Examples 1 to 3 are printed in two manufacturers' installation manuals; the others by hand.
test.each([
  ['75 ft of 1/2 in. R-410A, factory 15 ft of 3/8', 75, r410a['1/2'], 15 * r410a['3/8'], 81],
  ['45 ft of 5/16 in. R-410A, factory 13.5 oz', 45, r410a['5/16'], 13.5, 4.5],
  ['25 ft of 1/4 in. R-410A, factory 13.5 oz', 25, r410a['1/4'], 13.5, -6.75],
  ['45 ft of 3/8 in. R-410A, factory 15 ft', 45, r410a['3/8'], 15 * r410a['3/8'], 18],
  ['40 ft of 3/8 in. R-32, factory 25 ft', 40, r32['3/8'], 25 * r32['3/8'], 3.9],
])('%s', (_name, lineFt, adderOzPerFt, factoryAllowanceOz, oz) => {
  expect(chargeByWeightOz({ lineFt, adderOzPerFt, factoryAllowanceOz })).toBeCloseTo(oz, 9);
});

// One manual prints 9 oz in the line of its formula for this very example.
test('45 ft of 5/16 in. with 13.5 oz allowed is not the 9 oz one manual prints, it is 4.5 oz', () => {
  const oz = chargeByWeightOz({ lineFt: 45, adderOzPerFt: 0.4, factoryAllowanceOz: 13.5 });
  expect(oz).not.toBeCloseTo(9, 1);
  expect(oz).toBeCloseTo(4.5, 9);
});

test('a line just as long as the factory allowed needs nothing, every further foot its adder', () => {
  fc.assert(
    fc.property(
      fc.double({ min: 1, max: 200, noNaN: true }),
      fc.double({ min: 0, max: 100, noNaN: true }),
      fc.constantFrom(...Object.values(r410a), ...Object.values(r32)),
      (lineFt, moreFt, adderOzPerFt) => {
        const line = { adderOzPerFt, factoryAllowanceOz: lineFt * adderOzPerFt };
        expect(chargeByWeightOz({ ...line, lineFt })).toBe(0);
        expect(chargeByWeightOz({ ...line, lineFt: lineFt + moreFt })).toBeCloseTo(
          moreFt * adderOzPerFt,
          9,
        );
      },
    ),
  );
});
