import { expect, test } from 'vitest';
import { readingUncertainty } from '../../src/trade/index.ts';
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
