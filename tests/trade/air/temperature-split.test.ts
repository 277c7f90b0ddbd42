import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { judgeTemperatureSplit } from '../../../src/trade/air/judge-temperature-split.ts';
import {
  targetSplitDoubtDegF,
  targetTemperatureSplitDegF,
} from '../../../src/trade/air/target-temperature-split.ts';
import { temperatureSplit } from '../../../src/trade/air/temperature-split.ts';

// From memory of the California Title 24 appendix RA3.2 (2008), table of target splits.
const printed: [dryBulbDegF: number, wetBulbDegF: number, target: number][] = [
  [70, 50, 20.9],
  [70, 60, 17.7],
  [75, 55, 22.6],
  [75, 60, 20.4],
  [75, 63, 18.6],
  [75, 67, 15.5],
  [80, 60, 23.2],
  [80, 63, 21.4],
  [80, 67, 18.3],
  [80, 70, 15.5],
];

describe('the target split follows the humidity of the house', () => {
  it.each(printed)('%d/%d F has the printed target %d', (dryBulb, wetBulb, target) => {
    expect(targetTemperatureSplitDegF(dryBulb, wetBulb)).toBe(target);
  });

  // Worked by hand on straight lines.
  it.each([
    ['along one row', 75, 61.5, 19.5],
    ['between two rows', 77.5, 63, 20],
    ['between two rows, off their points', 72, 58, 0.6 * 18.34 + 0.4 * 21.28],
  ])('%s: %d/%d F', (_where, dryBulb, wetBulb, target) => {
    expect(targetTemperatureSplitDegF(dryBulb, wetBulb)).toBeCloseTo(target, 9);
  });

  it.each([
    ['hotter than the last row', 82, 67],
    ['colder than the first row', 69, 58],
    ['drier than its row', 75, 54],
    ['damper than its row', 80, 71],
    ['damper than one of the two rows', 72, 63],
    ['no number', Number.NaN, 63],
  ])('%s: no target is guessed', (_why, dryBulb, wetBulb) => {
    expect(targetTemperatureSplitDegF(dryBulb, wetBulb)).toBeUndefined();
  });

  test('the damper the air at one temperature, the smaller the target', () => {
    const anyDryBulb = fc.double({ min: 70, max: 80, noNaN: true });
    const anyWetBulb = fc.double({ min: 50, max: 70, noNaN: true });
    fc.assert(
      fc.property(anyDryBulb, anyWetBulb, anyWetBulb, (dryBulb, a, b) => {
        fc.pre(Math.abs(a - b) > 1e-6);
        const drier = targetTemperatureSplitDegF(dryBulb, Math.min(a, b));
        const damper = targetTemperatureSplitDegF(dryBulb, Math.max(a, b));
        fc.pre(drier !== undefined && damper !== undefined);
        expect(damper).toBeLessThan(drier);
      }),
    );
  });

  test('the warmer the air at one wet bulb, the larger the target', () => {
    const anyDryBulb = fc.double({ min: 70, max: 80, noNaN: true });
    fc.assert(
      fc.property(anyDryBulb, anyDryBulb, (a, b) => {
        fc.pre(Math.abs(a - b) > 1e-6);
        // 60 F is the one wet bulb that every row covers.
        const cooler = targetTemperatureSplitDegF(Math.min(a, b), 60);
        const warmer = targetTemperatureSplitDegF(Math.max(a, b), 60);
        expect(warmer).toBeGreaterThan(cooler ?? Number.NaN);
      }),
    );
  });

  it('the doubt between points covers the steepest bend over the widest step', () => {
    // Slopes of the rows by wet bulb; a change of slope per F is the bend.
    const bends = [
      ((20.4 - 18.6) / 3 - (22.6 - 20.4) / 5) / 4,
      ((18.6 - 15.5) / 4 - (20.4 - 18.6) / 3) / 3.5,
      ((21.4 - 18.3) / 4 - (23.2 - 21.4) / 3) / 3.5,
      ((18.3 - 15.5) / 3 - (21.4 - 18.3) / 4) / 3.5,
    ];
    const widestStep = 10;
    const largestGap = (Math.max(...bends) * widestStep ** 2) / 8;
    expect(largestGap).toBeLessThanOrEqual(targetSplitDoubtDegF + 0.05);
    expect(largestGap).toBeGreaterThan(targetSplitDoubtDegF - 0.05);
  });
});

describe('what a split says is airflow or capacity, or that nobody can tell', () => {
  // Title 24 appendix RA3.2 (2008): 3 F either way for an installer; above it too little air.
  it.each([
    ['14.0 where 18.6 is due', 14, 18.6, 1.4, 'low_capacity'],
    ['23.5 where 18.6 is due', 23.5, 18.6, 1.4, 'low_airflow'],
    ['19.0 where 18.6 is due', 19, 18.6, 1.4, 'on_target'],
    ['just at the limit', 21.6, 18.6, 0, 'on_target'],
    ['2.0 below, by thermometers good to 1.4', 16.6, 18.6, 1.4, 'undecided'],
    ['3.5 above, by thermometers good to 1.4', 22.1, 18.6, 1.4, 'undecided'],
    ['3.5 above, by good thermometers', 22.1, 18.6, 0.3, 'low_airflow'],
  ] as const)('%s', (_what, splitDegF, targetDegF, uncertaintyDegF, verdict) => {
    expect(judgeTemperatureSplit({ splitDegF, targetDegF, uncertaintyDegF })).toBe(verdict);
  });

  // A trade-training article's performance data: 25.09 F at 57 F wet bulb. The 80 F row begins at
  // 60 F, where the target is 23.2 already.
  it('25 F is normal in a dry house and too much in a damp one', () => {
    const split = { splitDegF: 25.09, uncertaintyDegF: 1 };
    const dry = targetTemperatureSplitDegF(80, 60) ?? Number.NaN;
    const damp = targetTemperatureSplitDegF(80, 67) ?? Number.NaN;
    expect(judgeTemperatureSplit({ ...split, targetDegF: dry })).toBe('on_target');
    expect(judgeTemperatureSplit({ ...split, targetDegF: damp })).toBe('low_airflow');
  });

  it('the doubt of a split is the joint doubt of its two thermometers', () => {
    const split = temperatureSplit(
      { degF: 75, uncertaintyDegF: 1 },
      { degF: 61, uncertaintyDegF: 1 },
    );
    expect(split.degF).toBe(14);
    expect(split.uncertaintyDegF).toBeCloseTo(Math.SQRT2, 12);
  });
});
