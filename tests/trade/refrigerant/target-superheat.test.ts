import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import { chargeTestLimits } from '../../../src/trade/refrigerant/charge-test-limits.ts';
import { screenTargetSuperheat } from '../../../src/trade/refrigerant/screen-target-superheat.ts';
import { targetSuperheat } from '../../../src/trade/refrigerant/target-superheat.ts';

// A manufacturer's charging table for R-22 with fixed metering, typed in apart from the code.
const printed = `
outdoor 56 58 60 62 64 66 68 70 72 74 76
55      17 20 23 26 29 32 35 37 40 42 45
65      13 16 19 21 24 27 30 33 36 38 41
75       6  9 12 15 18 21 24 28 31 34 37
85       -  -  -  8 11 15 19 22 26 30 33
90       -  -  -  5  9 13 16 20 24 27 31
95       -  -  -  -  6 10 14 18 22 25 29
105      -  -  -  -  -  5  9 13 17 22 26
115      -  -  -  -  -  -  -  8 14 18 23`;
const [head = [], ...body] = printed
  .trim()
  .split('\n')
  .map((line) => line.trim().split(/\s+/));
const cells = body.flatMap(([outdoor, ...targets]) =>
  targets.map((target, index) => ({
    outdoor: Number(outdoor),
    wetBulb: Number(head[index + 1]),
    target: target === '-' ? undefined : Number(target),
  })),
);
const targets = cells.flatMap(({ target, ...at }) =>
  target === undefined ? [] : [{ ...at, target }],
);
const dashes = cells.filter(({ target }) => target === undefined);
const doNotCharge = { kind: 'do_not_charge', why: 'slugging_risk' };
const outside = { kind: 'do_not_charge', why: 'outside_table' };

describe('the table', () => {
  test('has 88 cells, 22 of them dashes', () => {
    expect([cells.length, dashes.length]).toEqual([88, 22]);
  });

  test.each(targets)(
    '$wetBulb F wet bulb, $outdoor F outdoors is $target F',
    ({ wetBulb, outdoor, target }) => {
      expect(targetSuperheat(wetBulb, outdoor)).toEqual({ kind: 'target', degF: target });
    },
  );

  test.each(dashes)(
    '$wetBulb F wet bulb, $outdoor F outdoors: do not charge',
    ({ wetBulb, outdoor }) => {
      expect(targetSuperheat(wetBulb, outdoor)).toEqual(doNotCharge);
    },
  );
});

describe('between its points', () => {
  // By hand, straight lines.
  test.each([
    [57, 55, 18.5],
    [56, 60, 15],
    [71, 100, 17.5],
    [62, 87.5, 6.5],
    [75, 92.5, 28],
    [75.5, 112, 22.725],
  ])('%f F wet bulb, %f F outdoors is %f F', (wetBulb, outdoor, degF) => {
    const target = targetSuperheat(wetBulb, outdoor);
    expect(target).toMatchObject({ kind: 'target' });
    expect(target.kind === 'target' ? target.degF : Number.NaN).toBeCloseTo(degF, 9);
  });

  test.each([
    ['a dash to the left', 61, 85],
    ['a dash below', 62, 91],
    ['dashes on two corners', 65, 100],
    ['a dash on one of four corners', 63, 92],
  ])('%s: do not charge', (_name, wetBulb, outdoor) => {
    expect(targetSuperheat(wetBulb, outdoor)).toEqual(doNotCharge);
  });

  test('on a printed line the dash beside it does not matter', () => {
    expect(targetSuperheat(62, 86)).toMatchObject({ kind: 'target' });
    expect(targetSuperheat(63, 85)).toEqual({ kind: 'target', degF: 9.5 });
  });

  test('more moisture indoors never lowers the target, more heat outdoors never raises it', () => {
    const at = (wetBulb: number, outdoor: number) => targetSuperheat(wetBulb, outdoor);
    fc.assert(
      fc.property(
        fc.double({ min: 56, max: 76, noNaN: true }),
        fc.double({ min: 55, max: 115, noNaN: true }),
        fc.double({ min: 0, max: 5, noNaN: true }),
        (wetBulb, outdoor, more) => {
          const here = at(wetBulb, outdoor);
          const wetter = at(Math.min(wetBulb + more, 76), outdoor);
          const hotter = at(wetBulb, Math.min(outdoor + more, 115));
          if (here.kind === 'target') {
            expect(here.degF).toBeGreaterThanOrEqual(5);
            expect(wetter.kind === 'target' ? wetter.degF : -1).toBeGreaterThanOrEqual(
              here.degF - 1e-9,
            );
          }
          if (hotter.kind === 'target') {
            expect(here.kind === 'target' ? here.degF : -1).toBeGreaterThanOrEqual(
              hotter.degF - 1e-9,
            );
          }
        },
      ),
      { numRuns: 2_000 },
    );
  });
});

test.each([
  [55.9, 80],
  [76.1, 80],
  [70, 54.9],
  [70, 115.1],
  [Number.NaN, 80],
  [70, Number.NaN],
])('%f F wet bulb, %f F outdoors is outside the table: do not charge', (wetBulb, outdoor) => {
  expect(targetSuperheat(wetBulb, outdoor)).toEqual(outside);
});

// The SI twin of this table prints 7.8 C at 24 C outdoors and 20 C wet bulb, between 11.7 and 15.6.
test('a row that falls as the air gets moister would be noticed', () => {
  const rises = (row: readonly number[]) =>
    row.every((value, index) => index === 0 || value > (row[index - 1] ?? Number.NaN));
  for (const outdoor of new Set(targets.map((cell) => cell.outdoor))) {
    expect(
      rises(targets.filter((cell) => cell.outdoor === outdoor).map((cell) => cell.target)),
    ).toBe(true);
  }
  expect(rises([11.7, 7.8, 15.6])).toBe(false);
});

describe('the formula', () => {
  const screened = (wetBulb: number, outdoor: number): number => {
    const result = screenTargetSuperheat(wetBulb, outdoor);
    return result.kind === 'target' ? result.degF : Number.NaN;
  };

  // The first is the example of the public page that gives the formula; the rest by hand.
  test.each([
    [64, 96, 8.0],
    [66, 90, 14.0],
    [62, 85, 10.5],
    [70, 95, 17.5],
  ])('%f F wet bulb, %f F outdoors is %f F', (wetBulb, outdoor, degF) => {
    expect(screened(wetBulb, outdoor)).toBe(degF);
  });

  test('a target of exactly 5 F may be charged to, anything below may not', () => {
    expect(screened(60, 90)).toBe(5);
    expect(screenTargetSuperheat(60, 90.1)).toEqual({
      kind: 'do_not_charge',
      why: 'target_too_low',
    });
    expect(screenTargetSuperheat(60, 95)).toEqual({ kind: 'do_not_charge', why: 'target_too_low' });
  });

  test.each([
    [55, 80],
    [77, 80],
    [70, 54],
    [70, 116],
    [Number.NaN, 80],
  ])('%f F wet bulb, %f F outdoors is beyond what it was compared with', (wetBulb, outdoor) => {
    expect(screenTargetSuperheat(wetBulb, outdoor)).toEqual({
      kind: 'do_not_charge',
      why: 'outside_formula',
    });
  });

  test('never differs from the table by more than the uncertainty it states', () => {
    for (const { wetBulb, outdoor, target } of targets) {
      const result = screenTargetSuperheat(wetBulb, outdoor);
      expect(result).toMatchObject({ kind: 'target' });
      if (result.kind !== 'target') continue;
      expect(Math.abs(target - result.degF)).toBeLessThanOrEqual(result.uncertaintyDegF);
    }
  });

  // Table less formula, compared by hand over the whole table.
  test('is within 1.5 F up to 75 F, 3 F too high at 90/62 and 6.5 F too low at 115/76', () => {
    const mild = targets.filter(({ outdoor }) => outdoor <= 75);
    const deviations = mild.map(
      ({ wetBulb, outdoor, target }) => target - screened(wetBulb, outdoor),
    );
    expect(Math.max(...deviations.map(Math.abs))).toBe(1.5);
    expect(5 - screened(62, 90)).toBe(-3);
    expect(23 - screened(76, 115)).toBe(6.5);
  });

  test('says at most 7.5 F where the table forbids charging', () => {
    const values = dashes.map(({ wetBulb, outdoor }) => screened(wetBulb, outdoor));
    expect(Math.max(...values.filter((value) => !Number.isNaN(value)))).toBe(7.5);
  });
});

// California field-verification protocol RA3.2: target 18 F, 25 F found is 7 F over, outside 5 F.
test('18 F wanted and 25 F found is beyond the tolerance', () => {
  const target = targetSuperheat(70, 95);
  const over = 25 - (target.kind === 'target' ? target.degF : Number.NaN);
  expect(over).toBe(7);
  expect(over).toBeGreaterThan(chargeTestLimits.superheatToleranceDegF);
});
