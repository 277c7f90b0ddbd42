import fc from 'fast-check';
import { expect, test } from 'vitest';
import { refrigerantCodeSchema } from '../../../src/trade/refrigerant/refrigerants.ts';
import {
  subcoolingDegF,
  subcoolingWithUncertainty,
} from '../../../src/trade/refrigerant/subcooling.ts';

const anyLiquid = fc.record({
  refrigerant: fc.constantFrom(...refrigerantCodeSchema.options),
  liquidPsig: fc.double({ min: 80, max: 225, noNaN: true }),
  liquidLineDegF: fc.double({ min: 50, max: 130, noNaN: true }),
  altitudeFt: fc.integer({ min: 0, max: 9_000 }),
});

function found(value: number | undefined): number {
  expect(value).toBeDefined();
  return value ?? Number.NaN;
}

// Manufacturers' R-410A charts: 365 psig is 110.0 F; 251 psig with 6 F is a line at 78 F; 317 with
// 10 F at 90 F. R-407C is computed with CoolProp 8; on the dew line it would wrongly be 18.6 F.
test.each([
  ['R-410A', 365, 98, 12.0],
  ['R-410A', 251, 78, 6],
  ['R-410A', 317, 90, 10],
  ['R-410A', 364, 104, 6],
  ['R-407C', 260.2, 100, 10.0],
] as const)(
  '%s at %f psig, line %f F is %f F of subcooling',
  (refrigerant, liquidPsig, liquidLineDegF, subcooling) => {
    const readings = { refrigerant, liquidPsig, liquidLineDegF, altitudeFt: 0 };
    expect(Math.abs(found(subcoolingDegF(readings)) - subcooling)).toBeLessThan(0.5);
  },
);

test('a higher liquid pressure at the same line is more subcooling', () => {
  fc.assert(
    fc.property(anyLiquid, fc.double({ min: 0.1, max: 30, noNaN: true }), (readings, morePsi) => {
      const more = { ...readings, liquidPsig: readings.liquidPsig + morePsi };
      expect(found(subcoolingDegF(more))).toBeGreaterThan(found(subcoolingDegF(readings)));
    }),
  );
});

test('a higher site means less subcooling for the same gauge and line', () => {
  fc.assert(
    fc.property(anyLiquid, fc.integer({ min: 10, max: 3_000 }), (readings, higherFt) => {
      const higher = { ...readings, altitudeFt: readings.altitudeFt + higherFt };
      expect(found(subcoolingDegF(higher))).toBeLessThan(found(subcoolingDegF(readings)));
    }),
  );
});

test.each([-20, 700, Number.NaN])(
  '%f psig is outside the table and gives no subcooling',
  (liquidPsig) => {
    for (const refrigerant of refrigerantCodeSchema.options) {
      const readings = { refrigerant, liquidPsig, liquidLineDegF: 90, altitudeFt: 0 };
      expect(subcoolingDegF(readings)).toBeUndefined();
      expect(
        subcoolingWithUncertainty(readings, { liquidPsi: 1, liquidLineDegF: 1 }),
      ).toBeUndefined();
    }
  },
);

// By hand: 0.199 F/psi * 5 psi = 1.00 F, with 1 F of the clamp in quadrature 1.41 F.
test('a gauge good to 5 psi and a clamp good to 1 F make subcooling good to 1.4 F', () => {
  const readings = {
    refrigerant: 'R-410A',
    liquidPsig: 365,
    liquidLineDegF: 98,
    altitudeFt: 0,
  } as const;
  const measured = subcoolingWithUncertainty(readings, { liquidPsi: 5, liquidLineDegF: 1 });
  expect(measured?.degF).toBe(subcoolingDegF(readings));
  expect(measured?.uncertaintyDegF).toBeCloseTo(1.41, 2);
});

test('the uncertainty is what moving the gauge and the clamp by theirs really does', () => {
  fc.assert(
    fc.property(
      anyLiquid,
      fc.double({ min: 0.05, max: 2, noNaN: true }),
      fc.double({ min: 0.1, max: 3, noNaN: true }),
      (readings, liquidPsi, liquidLineDegF) => {
        const at = (liquidPsig: number) => found(subcoolingDegF({ ...readings, liquidPsig }));
        const moved =
          (at(readings.liquidPsig + liquidPsi) - at(readings.liquidPsig - liquidPsi)) / 2;
        const measured = subcoolingWithUncertainty(readings, { liquidPsi, liquidLineDegF });
        expect(found(measured?.uncertaintyDegF)).toBeCloseTo(Math.hypot(moved, liquidLineDegF), 2);
      },
    ),
  );
});
