import { expect, test } from 'vitest';
import { runningCapacitanceUf } from '../../../src/trade/electrical/running-capacitance.ts';
import { combineInQuadrature } from '../../../src/trade/uncertainty/combine-in-quadrature.ts';

const hertz = 60;

// First principles: a capacitor of reactance Xc = 1/(2*pi*f*C) passes I = V/Xc.
test.each([5, 7.5, 35, 45, 80])('%f uF at 370 V gives back its own capacitance', (microfarads) => {
  const reactanceOhms = 1 / (2 * Math.PI * hertz * (microfarads / 1e6));
  expect(runningCapacitanceUf(370 / reactanceOhms, 370)).toBeCloseTo(microfarads, 9);
});

// Worked by hand from the same formula.
const worked: [
  amps: number,
  volts: number,
  uf: number,
  ratedUf: number,
  deviationPercent: number,
][] = [
  [6.3, 371, 45.04, 45, 0.1],
  [4.2, 345, 32.29, 35, -7.74],
  [5.2, 350, 39.41, 45, -12.42],
  [0.63, 348, 4.8, 5, -3.96],
];
test.each(worked)('%f A at %f V is %f uF', (amps, volts, uf, ratedUf, deviationPercent) => {
  const measured = runningCapacitanceUf(amps, volts);
  expect(measured).toBeCloseTo(uf, 2);
  expect((measured / ratedUf - 1) * 100).toBeCloseTo(deviationPercent, 2);
});

// First principles: independent errors add as the root of the sum of their squares.
test('2 % of current and 1 % of voltage are 2.24 % of capacitance', () => {
  expect(combineInQuadrature(2, 1)).toBeCloseTo(2.24, 2);
});
