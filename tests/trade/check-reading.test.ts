import { expect, test } from 'vitest';
import { checkReading, type PointCode, type Reading } from '../../src/trade/index.ts';
import { amps, microfarads, ohms, type Sign, volts } from './make-evidence.ts';

const accepted: [string, Sign][] = [
  ['a capacitor of 45 uF', microfarads('capacitor_herm', 45)],
  ['a dead capacitor', microfarads('capacitor_herm', 0)],
  ['a locked rotor of 112 A', amps('compressor_common', 112)],
  ['line voltage over an open pole', volts('contactor_pole_1', 245)],
  ['a coil of 14 ohm', ohms('contactor_coil', 14)],
  ['120 V at a coil made for them', volts('contactor_coil', 119.6)],
  ['240 V at a coil made for them', volts('contactor_coil', 240)],
];
test.each(accepted)('accepts %s', (_name, sign) => {
  expect(checkReading(readingOf(sign))).toBeUndefined();
});

const refused: [string, Sign, RegExp][] = [
  ['4,500 uF', microfarads('capacitor_herm', 4500), /0 to 150 uF.*45 uF.*decimal point/],
  ['45,000 given in nF', microfarads('capacitor_herm', 45000), /45 uF/],
  ['630 given in mA', amps('capacitor_fan', 630), /0\.63 A.*mA/],
  ['264 V on a 24 V wire', volts('control_supply', 264), /26\.4 V.*decimal point/],
  ['a negative current', amps('compressor_common', -5), /minus/],
  ['a number that is none', volts('line_supply', Number.NaN), /not a number/],
  ['an endless number', volts('line_supply', Number.POSITIVE_INFINITY), /not a number/],
  ['a capacitance of a switch', microfarads('float_switch_in', 5), /capacitance/],
  [
    'volts by a capacitance meter',
    volts('line_supply', 240, { method: 'capacitance_meter_disconnected' }),
    /cannot measure/,
  ],
  ['volts in amperes', volts('line_supply', 240, { unit: 'A' }), /V, not A/],
];
test.each(refused)('refuses %s and says why', (_name, sign, words) => {
  expect(checkReading(readingOf(sign))?.message).toMatch(words);
});

test('a refusal carries the allowed range as numbers', () => {
  const refusal = checkReading(readingOf(microfarads('capacitor_herm', 4500)));
  expect(refusal).toMatchObject({
    kind: 'out_of_range',
    low: 0,
    high: 150,
    unit: 'uF',
    likely: 45,
  });
});

function readingOf(sign: Sign): Reading {
  if (!('reading' in sign)) throw new Error('the sign is no reading');
  return { id: 'r0', ...sign.reading };
}

const points: PointCode[] = ['capacitor_herm', 'capacitor_fan'];
test.each(points)('takes amps, volts and microfarads at %s', (point) => {
  for (const sign of [amps(point, 1), volts(point, 350), microfarads(point, 5)]) {
    expect(checkReading(readingOf(sign))).toBeUndefined();
  }
});
