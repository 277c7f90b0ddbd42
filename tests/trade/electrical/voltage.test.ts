import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import {
  serviceBand,
  supplyBand,
  utilizationVoltsMin,
} from '../../../src/trade/electrical/voltage-band.ts';
import {
  addedHeatingPercent,
  judgeUnbalance,
  unbalanceUncertaintyPercent,
  voltageUnbalancePercent,
} from '../../../src/trade/electrical/voltage-unbalance.ts';
import { compareWithBand } from '../../../src/trade/uncertainty/compare-with-band.ts';

// From memory of ANSI C84.1.
describe('what the utility may deliver', () => {
  it.each([
    [120, 'a', 114, 126],
    [240, 'a', 228, 252],
    [120, 'b', 110, 127],
    [240, 'b', 220, 254],
  ] as const)('on %d V, range %s is %d to %d V', (nominal, range, low, high) => {
    expect(serviceBand(nominal, range)).toEqual({ low, high });
  });

  it.each([
    [120, 'a', 108],
    [120, 'b', 104],
    [240, 'a', 216],
  ] as const)('a unit on %d V, range %s, may see %d V at least', (nominal, range, volts) => {
    expect(utilizationVoltsMin(nominal, range)).toBe(volts);
  });

  it('226 V at the service of a 240 V system is below range A and inside range B', () => {
    const measured = { value: 226, uncertainty: 1 };
    expect(compareWithBand(measured, serviceBand(240, 'a'))).toBe('below');
    expect(compareWithBand(measured, serviceBand(240, 'b'))).toBe('inside');
  });

  it('by a meter good to 1 %, 226 V may still be 228', () => {
    const measured = { value: 226, uncertainty: 2.56 };
    expect(compareWithBand(measured, serviceBand(240, 'a'))).toBe('undecided');
  });
});

describe('what a unit is made for', () => {
  it('its plate counts', () => {
    expect(supplyBand({ supplyVoltsMin: 197, supplyVoltsMax: 253 })).toEqual({
      band: { low: 197, high: 253 },
      basis: 'plate',
    });
  });

  it('half a plate is not filled up from another kind of unit', () => {
    expect(supplyBand({ supplyVoltsMin: 414 })).toEqual({ band: { low: 414 }, basis: 'plate' });
    expect(supplyBand({ supplyVoltsMax: 253 })).toEqual({ band: { high: 253 }, basis: 'plate' });
  });

  // From memory of usual plates: 208 V less 10 % is 187.2, 230 V plus 10 % is 253.0.
  it('without a plate it is the usual 208/230 V unit, and it is said that this is only usual', () => {
    const usual = { band: { low: 187, high: 253 }, basis: 'usual_208_230' };
    expect(supplyBand({})).toEqual(usual);
    expect(supplyBand({ phase: 1 })).toEqual(usual);
    expect(Math.floor(0.9 * 208)).toBe(187);
    expect(Math.round(1.1 * 230)).toBe(253);
  });

  it('three phases without a plate are not guessed', () => {
    expect(supplyBand({ phase: 3 })).toBeUndefined();
  });
});

describe('how uneven three voltages are', () => {
  // NEMA MG-1 as published examples have it; outputs computed.
  it.each([
    [462, 463, 455, 1.087],
    [460, 467, 450, 1.961],
    [480, 476, 472, 0.84],
    [203, 210, 212, 2.56],
    [208, 206, 199, 2.61],
  ])('%d, %d, %d V are %d %% uneven', (a, b, c, percent) => {
    expect(voltageUnbalancePercent([a, b, c])).toBeCloseTo(percent, 2);
  });

  it('a manual that rounds 5.33 / 208.33 early prints 2.5; nothing is rounded here', () => {
    expect(voltageUnbalancePercent([203, 210, 212])).toBeGreaterThan(2.55);
  });

  it('a public page that prints 2.3 for 208, 206 and 199 V is wrong', () => {
    expect(voltageUnbalancePercent([208, 206, 199])).not.toBeCloseTo(2.3, 1);
  });

  test('equal voltages are even, and a meter that reads all three high changes nothing', () => {
    const anyVolts = fc.double({ min: 190, max: 490, noNaN: true });
    fc.assert(
      fc.property(anyVolts, anyVolts, anyVolts, (a, b, c) => {
        expect(voltageUnbalancePercent([a, a, a])).toBeCloseTo(0, 9);
        const high = voltageUnbalancePercent([1.01 * a, 1.01 * b, 1.01 * c]);
        expect(high).toBeCloseTo(voltageUnbalancePercent([a, b, c]), 9);
      }),
    );
  });

  // First principles: 2/3, 1/3 and 1/3 in quadrature are 0.816; of 0.3 V in 208.33.
  it('three counts of a display that shows tenths are 0.12 % of doubt', () => {
    expect(unbalanceUncertaintyPercent([203, 210, 212], 0.3)).toBeCloseTo(0.1176, 4);
  });

  // From memory of NEMA MG-1 14.36.
  it.each([
    [1, 0, 'even'],
    [0.84, 0.1, 'even'],
    [1.087, 0.1, 'undecided'],
    [1.961, 0.1, 'derate'],
    [4.95, 0.1, 'undecided'],
    [6, 0.1, 'do_not_operate'],
  ] as const)('%d %% within %d is %s', (percent, uncertaintyPercent, verdict) => {
    expect(judgeUnbalance({ percent, uncertaintyPercent })).toBe(verdict);
  });

  it('3 % heats the windings by 18 %', () => {
    expect(addedHeatingPercent(3)).toBe(18);
  });
});
