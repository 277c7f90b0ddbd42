import { expect, test } from 'vitest';
import { seaLevelPsia } from '../../../src/trade/refrigerant/atmosphere.ts';
import { refrigerantCodeSchema } from '../../../src/trade/refrigerant/refrigerants.ts';
import {
  makeSaturationCurve,
  pressureOnCurvePsia,
  temperatureOnCurveDegF,
} from '../../../src/trade/refrigerant/saturation-curve.ts';
import { referencePoints } from './read-reference.ts';

const lines = refrigerantCodeSchema.options.flatMap((code) =>
  (['bubblePsig', 'dewPsig'] as const).map((line) => ({
    code,
    line,
    points: referencePoints
      .filter((point) => point.refrigerant === code)
      .map((point) => ({ degF: point.degF, psia: point[line] + seaLevelPsia })),
  })),
);

/** A curve through every n-th point, and the points between that it never saw. */
function leaveOut(points: readonly { degF: number; psia: number }[], every: number) {
  const kept = points.filter((_, index) => index % every === 0);
  const grid = { fromDegF: -40, stepDegF: 5 * every };
  const curve = makeSaturationCurve(
    grid,
    kept.map((point) => point.psia),
  );
  const unseen = points.filter((point, index) => index % every !== 0 && point.degF <= curve.toDegF);
  return { curve, unseen };
}

// The table stands 5 F apart. If a table twice as coarse misses the points left out by less than
// 0.004 psi, the fine one, whose error is some sixteen times smaller, is far within 0.1 psi.
test.each(lines)('$code $line: every second point is found from the others to 0.004 psi', (row) => {
  const { curve, unseen } = leaveOut(row.points, 2);
  expect(unseen.length).toBe(19);
  for (const { degF, psia } of unseen) {
    expect(Math.abs((pressureOnCurvePsia(curve, degF) ?? Number.NaN) - psia)).toBeLessThan(0.004);
  }
});

test.each(lines)('$code $line: the same points give their temperature to 0.005 F', (row) => {
  const { curve, unseen } = leaveOut(row.points, 2);
  for (const { degF, psia } of unseen) {
    expect(Math.abs((temperatureOnCurveDegF(curve, psia) ?? Number.NaN) - degF)).toBeLessThan(
      0.005,
    );
  }
});

// Halving the step must take most of the error away, or the scheme is not of the order it claims.
test('a table of half the step is at least five times closer', () => {
  const worst = (every: number) =>
    Math.max(
      ...lines.flatMap(({ points }) => {
        const { curve, unseen } = leaveOut(points, every);
        return unseen.map(({ degF, psia }) =>
          Math.abs((pressureOnCurvePsia(curve, degF) ?? Number.NaN) - psia),
        );
      }),
    );
  expect(worst(2) * 5).toBeLessThan(worst(4));
});

// Clausius and Clapeyron: with ln p a straight line over 1/T every scheme worth its name is exact.
test('a vapor that follows ln p = a - b/T is given back exactly', () => {
  const psia = (degF: number) => Math.exp(14 - 5000 / (degF + 459.67));
  const curve = makeSaturationCurve(
    { fromDegF: 0, stepDegF: 10 },
    [0, 10, 20, 30, 40, 50].map(psia),
  );
  for (const degF of [0, 3.3, 17, 29.9, 44, 50]) {
    expect(pressureOnCurvePsia(curve, degF)).toBeCloseTo(psia(degF), 9);
    expect(temperatureOnCurveDegF(curve, psia(degF))).toBeCloseTo(degF, 9);
  }
});
