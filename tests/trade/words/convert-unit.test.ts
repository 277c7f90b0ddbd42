import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  type CanonicalUnit,
  convertUnit,
  differenceToCanonical,
  toCanonical,
  type UnitCode,
  unitCodes,
  unitsAccepted,
} from '../../../src/trade/words/convert-unit.ts';
import { writtenUnits } from '../../../src/trade/words/written-units.ts';

type Row = [value: number, unit: UnitCode, canonical: CanonicalUnit, expected: number];

describe('a value in the unit of the gauge becomes the stored one, exactly', () => {
  // By definition of the scales, and by decimal prefixes.
  const definitions: Row[] = [
    [-40, 'Cel', '[degF]', -40],
    [0, 'Cel', '[degF]', 32],
    [100, 'Cel', '[degF]', 212],
    [21.1, 'Cel', '[degF]', 69.98],
    [0, 'K', '[degF]', -459.67],
    [273.15, 'K', '[degF]', 32],
    [350, 'mV', 'V', 0.35],
    [0.24, 'kV', 'V', 240],
    [630, 'mA', 'A', 0.63],
    [45_000, 'nF', 'uF', 45],
    [35.1e6, 'pF', 'uF', 35.1],
    [0.0141, 'kOhm', 'Ohm', 14.1],
    [20, 'MOhm', 'Ohm', 2e7],
    [1.5, 'GOhm', 'Ohm', 1.5e9],
    [0.5, 'mm[Hg]', 'um[Hg]', 500],
    [6.5, '[lb_av]', '[oz_av]', 104],
    [30, '[in_i]', '[ft_i]', 2.5],
    [0, 'Pa', 'um[Hg]', 0],
    [1.5e22, 'mA', 'A', 1.5e19],
    [2.5e-7, 'kV', 'V', 0.00025],
  ];
  // Computed apart from this code with Python's exact fractions from the definitions in NIST SP 811
  // (inch, pound, standard gravity, conventional mercury) and UCUM (water column).
  const computed: Row[] = [
    [101.325, 'kPa', '[psi]', 14.695948775513449],
    [9.3, 'bar', '[psi]', 134.88509608909456],
    [0.93, 'MPa', '[psi]', 134.88509608909456],
    [-10, "[in_i'Hg]", '[psi]', -4.911541474703378],
    [125, 'Pa', "[in_i'H2O]", 0.5018288449694529],
    [1.25, 'mbar', "[in_i'H2O]", 0.5018288449694529],
    [0.125, 'kPa', "[in_i'H2O]", 0.5018288449694529],
    [66.7, 'Pa', 'um[Hg]', 500.29107108905276],
    [100, 'g', '[oz_av]', 3.5273961949580412],
    [2.95, 'kg', '[oz_av]', 104.05818775126222],
    [7.5, 'm', '[ft_i]', 24.606299212598426],
    [566, 'L/s', '[cft_i]/min', 1199.2860818617526],
    [2000, 'm3/h', '[cft_i]/min', 1177.155557382953],
  ];
  test.each([...definitions, ...computed])(
    '%d %s in %s is %d',
    (value, unit, canonical, expected) => {
      expect(toCanonical(value, unit, canonical)).toBe(expected);
    },
  );

  // Printed factors, from memory of NIST SP 811 appendix B.9, to the digits it prints.
  const printed: [unit: UnitCode, into: UnitCode, factor: number, digits: number][] = [
    ['[psi]', 'Pa', 6894.757, 3],
    ["[in_i'Hg]", 'Pa', 3386.389, 3],
    ["[in_i'H2O]", 'Pa', 249.0889, 4],
    ['mm[Hg]', 'Pa', 133.3224, 4],
    ['[oz_av]', 'g', 28.34952, 5],
    ['[cft_i]/min', 'L/s', 0.4719474, 7],
  ];
  test.each(printed)('one %s in %s is the printed factor', (unit, into, factor, digits) => {
    expect(convertUnit(1, unit, into)).toBeCloseTo(factor, digits);
  });
});

describe('a difference is converted without the zero of its scale', () => {
  const rows: Row[] = [
    [0.1, 'Cel', '[degF]', 0.18],
    [10, 'K', '[degF]', 18],
    [2, '[degF]', '[degF]', 2],
    [101.325, 'kPa', '[psi]', 14.695948775513449],
  ];
  test.each(rows)('%d %s more is %s %d more', (difference, unit, canonical, expected) => {
    expect(differenceToCanonical(difference, unit, canonical)).toBe(expected);
  });
});

describe('what makes no sense is refused', () => {
  it.each([
    ['kPa', 'uF'],
    ['Pa', '[psi]'],
    ['[psi]', 'um[Hg]'],
    ['[oz_av]', '[ft_i]'],
  ] as const)('nobody reads %s where %s is stored', (unit, canonical) => {
    expect(toCanonical(1, unit, canonical)).toBeUndefined();
    expect(differenceToCanonical(1, unit, canonical)).toBeUndefined();
  });

  it.each([Number.NaN, Infinity, -Infinity])('%d is no reading', (value) => {
    expect(() => toCanonical(value, 'Cel', '[degF]')).toThrow(RangeError);
  });

  it('mF is not understood, as it is a slip for mfd', () => {
    expect(unitCodes).not.toContain('mF');
    expect(Object.keys(writtenUnits)).not.toContain('mF');
  });
});

const anyPair = fc.constantFrom(
  ...Object.entries(unitsAccepted).flatMap(([canonical, units]) =>
    units.map((unit): [UnitCode, CanonicalUnit] => [unit, canonical as CanonicalUnit]),
  ),
);
const anyCanonical = fc.constantFrom(...(Object.keys(unitsAccepted) as CanonicalUnit[]));
const anyValue = fc.double({ min: -1e6, max: 1e6, noNaN: true });

/** A figure as a display shows it: up to seven digits, three of them decimals. */
const anyDisplay = fc.integer({ min: -9_999_999, max: 9_999_999 }).map((counts) => counts / 1000);

/** The distance from a double to the next larger one of its size. */
function ulp(value: number): number {
  const [float, bits] = [new Float64Array([Math.abs(value)]), new BigUint64Array(1)];
  bits.set(new BigUint64Array(float.buffer));
  bits[0] = (bits[0] ?? 0n) + 1n;
  return (new Float64Array(bits.buffer)[0] ?? Number.NaN) - Math.abs(value);
}

describe('laws of conversion', () => {
  test('a value in its own unit is the very same number, sign of zero included', () => {
    fc.assert(
      fc.property(anyCanonical, anyValue, (unit, value) => {
        expect(toCanonical(value, unit, unit)).toBe(value);
        expect(differenceToCanonical(value, unit, unit)).toBe(value);
      }),
    );
  });

  // One rounding each way, and the way back reads the shortest text of what the first one left.
  test('there and back loses two steps of a double at most', () => {
    fc.assert(
      fc.property(anyPair, anyDisplay, ([unit, canonical], value) => {
        const there = toCanonical(value, unit, canonical) ?? Number.NaN;
        const back = convertUnit(there, canonical, unit) ?? Number.NaN;
        // A temperature near the zero of one scale is no finer than its figure on the other.
        const scale = canonical === '[degF]' ? Math.max(Math.abs(value), Math.abs(there)) : value;
        expect(Math.abs(back - value)).toBeLessThanOrEqual(2 * ulp(scale));
      }),
      { numRuns: 5000 },
    );
  });

  test('a larger value never becomes a smaller one', () => {
    fc.assert(
      fc.property(anyPair, anyValue, anyValue, ([unit, canonical], a, b) => {
        const [low, high] = [Math.min(a, b), Math.max(a, b)].map((value) =>
          toCanonical(value, unit, canonical),
        );
        expect(low).toBeLessThanOrEqual(high ?? Number.NaN);
      }),
    );
  });

  test('only temperatures tell a difference from a value', () => {
    fc.assert(
      fc.property(anyPair, anyValue, ([unit, canonical], value) => {
        const isShifted = canonical === '[degF]' && unit !== '[degF]';
        const same =
          toCanonical(value, unit, canonical) === differenceToCanonical(value, unit, canonical);
        expect(same).toBe(!isShifted);
      }),
    );
  });

  test('every accepted unit is of the kind it is stored in, and every unit is accepted somewhere', () => {
    for (const [canonical, units] of Object.entries(unitsAccepted)) {
      for (const unit of units) {
        expect(toCanonical(1, unit, canonical as CanonicalUnit)).toBeGreaterThan(-460);
      }
    }
    expect(new Set(Object.values(unitsAccepted).flat())).toEqual(new Set(unitCodes));
  });
});

describe('units as people write them', () => {
  it.each([
    ['\u00b5F', 'uF'],
    ['\u03bcF', 'uF'],
    ['MFD', 'uF'],
    ['k\u03a9', 'kOhm'],
    ['k\u2126', 'kOhm'],
    ['C', 'Cel'],
    ['\u00b0C', 'Cel'],
    ['psig', '[psi]'],
    ['"wc', "[in_i'H2O]"],
    ['in. w.c.', "[in_i'H2O]"],
    ['iwc', "[in_i'H2O]"],
    ['microns', 'um[Hg]'],
  ] as const)('%s is %s', (written, code) => {
    expect(writtenUnits[written]).toBe(code);
  });

  it('every code may be written as itself', () => {
    const written = new Map<string, UnitCode>(Object.entries(writtenUnits));
    expect(unitCodes.filter((code) => written.get(code) !== code)).toEqual([]);
  });
});
