import fc from 'fast-check';
import { expect, test } from 'vitest';
import { refrigerantCodeSchema } from '../../../src/trade/refrigerant/refrigerants.ts';
import {
  superheatDegF,
  superheatWithUncertainty,
} from '../../../src/trade/refrigerant/superheat.ts';

const anyRefrigerant = fc.constantFrom(...refrigerantCodeSchema.options);
const anySuction = fc.record({
  refrigerant: anyRefrigerant,
  suctionPsig: fc.double({ min: 20, max: 190, noNaN: true }),
  suctionLineDegF: fc.double({ min: 20, max: 90, noNaN: true }),
  altitudeFt: fc.integer({ min: 0, max: 9_000 }),
});

function found(value: number | undefined): number {
  expect(value).toBeDefined();
  return value ?? Number.NaN;
}

// A manufacturer's R-410A chart puts 130 psig at 45.12 F, so 57.0 F is 11.9 F of superheat. The
// R-407C row is computed with CoolProp 8; on the bubble line it would wrongly be 21.0 F. R-22 73
// psig is 43 F in a manufacturer's table for fixed metering.
test.each([
  ['R-410A', 130, 57, 0, 11.9],
  ['R-407C', 70.7, 55, 0, 10.0],
  ['R-22', 73, 57, 0, 14.0],
  ['R-410A', 118, 50, 5_000, 11.3],
] as const)(
  '%s at %f psig, line %f F, %f ft is %f F of superheat',
  (refrigerant, suctionPsig, suctionLineDegF, altitudeFt, superheat) => {
    const readings = { refrigerant, suctionPsig, suctionLineDegF, altitudeFt };
    expect(Math.abs(found(superheatDegF(readings)) - superheat)).toBeLessThan(0.2);
  },
);

test('a higher suction pressure at the same line is less superheat', () => {
  fc.assert(
    fc.property(anySuction, fc.double({ min: 0.1, max: 20, noNaN: true }), (readings, morePsi) => {
      const more = { ...readings, suctionPsig: readings.suctionPsig + morePsi };
      expect(found(superheatDegF(more))).toBeLessThan(found(superheatDegF(readings)));
    }),
  );
});

test('a higher site means more superheat for the same gauge and line', () => {
  fc.assert(
    fc.property(anySuction, fc.integer({ min: 10, max: 3_000 }), (readings, higherFt) => {
      const higher = { ...readings, altitudeFt: readings.altitudeFt + higherFt };
      expect(found(superheatDegF(higher))).toBeGreaterThan(found(superheatDegF(readings)));
    }),
  );
});

test.each([-20, 700, Number.NaN])(
  '%f psig is outside the table and gives no superheat',
  (suctionPsig) => {
    for (const refrigerant of refrigerantCodeSchema.options) {
      const readings = { refrigerant, suctionPsig, suctionLineDegF: 50, altitudeFt: 0 };
      expect(superheatDegF(readings)).toBeUndefined();
      expect(
        superheatWithUncertainty(readings, { suctionPsi: 1, suctionLineDegF: 1 }),
      ).toBeUndefined();
    }
  },
);

// By hand: 0.412 F/psi * 2 psi = 0.82 F, with 1 F of the clamp in quadrature 1.30 F.
test('a gauge good to 2 psi and a clamp good to 1 F make superheat good to 1.3 F', () => {
  const readings = {
    refrigerant: 'R-410A',
    suctionPsig: 130,
    suctionLineDegF: 57,
    altitudeFt: 0,
  } as const;
  const measured = superheatWithUncertainty(readings, { suctionPsi: 2, suctionLineDegF: 1 });
  expect(measured?.degF).toBe(superheatDegF(readings));
  expect(measured?.uncertaintyDegF).toBeCloseTo(1.3, 2);
});

test('the uncertainty is what moving the gauge and the clamp by theirs really does', () => {
  fc.assert(
    fc.property(
      anySuction,
      fc.double({ min: 0.05, max: 1, noNaN: true }),
      fc.double({ min: 0.1, max: 3, noNaN: true }),
      (readings, suctionPsi, suctionLineDegF) => {
        const at = (suctionPsig: number) => found(superheatDegF({ ...readings, suctionPsig }));
        const moved =
          (at(readings.suctionPsig - suctionPsi) - at(readings.suctionPsig + suctionPsi)) / 2;
        const measured = superheatWithUncertainty(readings, { suctionPsi, suctionLineDegF });
        expect(found(measured?.uncertaintyDegF)).toBeCloseTo(Math.hypot(moved, suctionLineDegF), 2);
      },
    ),
  );
});
