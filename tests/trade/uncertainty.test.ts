import { expect, test } from 'vitest';
import { compareWithLimit, readingUncertainty } from '../../src/trade/index.ts';
import { compareWithBand } from '../../src/trade/uncertainty/compare-with-band.ts';
import { amps, microfarads, type Sign, volts } from './make-evidence.ts';

// Common practice, no source: percent of the reading plus counts of the display's last digit,
// whose size depends on the range the meter has chosen.
const rows: [name: string, sign: Sign, uncertainty: number][] = [
  ['6.30 A by a clamp: 2 % + 3 x 0.01', amps('capacitor_herm', 6.3), 0.156],
  ['0.63 A by a clamp is good to 6.8 %, not 2 %', amps('capacitor_fan', 0.63), 0.0426],
  ['112 A by a clamp: 2 % + 3 x 0.1', amps('compressor_common', 112), 2.54],
  ['371 V: 1 % + 3 x 0.1', volts('capacitor_herm', 371), 4.01],
  ['24 V: 1 % + 3 x 0.01', volts('contactor_coil', 24), 0.27],
  ['3 V: 1 % + 3 x 0.001', volts('contactor_pole_1', 3), 0.033],
  [
    '3 V by a clamp meter: 1 % + 3 x 0.1',
    volts('contactor_pole_1', 3, { method: 'clamp_meter' }),
    0.33,
  ],
  ['45 uF leads off: 1.9 % + 2 x 0.01', microfarads('capacitor_herm', 45), 0.875],
];
test.each(rows)('%s', (_name, sign, uncertainty) => {
  if (!('reading' in sign)) throw new Error('the sign is no reading');
  expect(readingUncertainty(sign.reading)).toBeCloseTo(uncertainty, 9);
});

test('a method that cannot measure the quantity has no uncertainty to tell', () => {
  const reading = { quantity: 'current', value: 1, method: 'multimeter' } as const;
  expect(() => readingUncertainty(reading)).toThrow('multimeter cannot measure current');
});

test('beyond its last range a meter stays on the digit of that range: 1 % + 3 x 0.1', () => {
  const reading = { quantity: 'voltage', value: 700, method: 'clamp_meter' } as const;
  expect(readingUncertainty(reading)).toBeCloseTo(7.3, 9);
});

test.each([
  [8.5, 'below'],
  // All of the doubt has to lie beyond: touching the limit is not enough.
  [9, 'within'],
  [11, 'within'],
  [11.5, 'above'],
] as const)('%s, good to 1, is %s a limit of 10', (value, side) => {
  expect(compareWithLimit({ value, uncertainty: 1 }, 10)).toBe(side);
});

test.each([
  [8.5, 'below'],
  [9, 'undecided'],
  [10.5, 'undecided'],
  [11, 'inside'],
  [15, 'inside'],
  [19, 'inside'],
  [19.5, 'undecided'],
  [21, 'undecided'],
  [21.5, 'above'],
] as const)('%s, good to 1, is %s a band from 10 to 20', (value, verdict) => {
  expect(compareWithBand({ value, uncertainty: 1 }, { low: 10, high: 20 })).toBe(verdict);
});

test.each([
  ['without a low end', -1000, { high: 20 }],
  ['without a high end', 1000, { low: 10 }],
  ['without any end', 0, {}],
] as const)('a band %s is open there', (_name, value, band) => {
  expect(compareWithBand({ value, uncertainty: 1 }, band)).toBe('inside');
});
