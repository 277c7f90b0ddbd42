import { describe, expect, test } from 'vitest';
import { condensingBand } from '../../../src/trade/refrigerant/condensing-band.ts';
import {
  condensingOverAmbientDegF,
  condensingOverAmbientWithUncertainty,
} from '../../../src/trade/refrigerant/condensing-over-ambient.ts';

const readings = {
  refrigerant: 'R-410A',
  liquidPsig: 365,
  outdoorDegF: 95,
  altitudeFt: 0,
} as const;

// A manufacturer's R-410A chart: 365 psig is 110 F.
test('R-410A at 365 psig condenses 15 F above 95 F outdoors', () => {
  expect(Math.abs((condensingOverAmbientDegF(readings) ?? Number.NaN) - 15)).toBeLessThan(0.5);
});

test('a head pressure read on a mountain condenses closer to the outdoor air', () => {
  const high = condensingOverAmbientDegF({ ...readings, altitudeFt: 5_000 }) ?? Number.NaN;
  expect(high).toBeLessThan(condensingOverAmbientDegF(readings) ?? Number.NaN);
  expect(high).toBeGreaterThan(14);
});

test('R-407C is taken on its bubble line', () => {
  // Computed with CoolProp 8: 260.2 psig is bubble 110.0 F and dew 118.6 F.
  const degF = condensingOverAmbientDegF({ ...readings, refrigerant: 'R-407C', liquidPsig: 260.2 });
  expect(degF).toBeCloseTo(15, 1);
});

test('outside the table there is no figure', () => {
  const far = { ...readings, liquidPsig: 700 };
  expect(condensingOverAmbientDegF(far)).toBeUndefined();
  expect(
    condensingOverAmbientWithUncertainty(far, { liquidPsi: 1, outdoorDegF: 1 }),
  ).toBeUndefined();
});

// By hand: 0.199 F/psi * 5 psi = 1.00 F, with 2 F of the thermometer in quadrature 2.23 F.
test('a gauge good to 5 psi and a thermometer good to 2 F leave 2.2 F of doubt', () => {
  const measured = condensingOverAmbientWithUncertainty(readings, { liquidPsi: 5, outdoorDegF: 2 });
  expect(measured?.uncertaintyDegF).toBeCloseTo(2.23, 2);
  expect(measured?.degF).toBe(condensingOverAmbientDegF(readings));
});

describe('the band to expect', () => {
  // Common practice, no source.
  test.each([
    [undefined, 15, 30],
    [8, 25, 30],
    [10, 25, 30],
    [11.9, 25, 30],
    [12, 20, 25],
    [13.9, 20, 25],
    [14, 15, 20],
    [22, 15, 20],
  ])('at %s SEER it is %f to %f F', (seer, lowDegF, highDegF) => {
    expect(condensingBand(seer)).toMatchObject({ lowDegF, highDegF });
  });
});
