import { expect, test } from 'vitest';
import { circuitReadings } from '../../circuit-readings.ts';
import { saw, withPhoto } from '../../make-evidence.ts';
import { type Row, standsIndoors } from './stands.ts';

const loose = 'sensing_bulb_loose';
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['loose, with a photo', [saw(loose, 'yes', withPhoto)], 'proven', 'proven'],
  ['loose, without a photo', [saw(loose)], 'supported', 'supported'],
  ['tight and wrapped', [saw(loose, 'no')], 'contradicted', 'contradicted'],
  [
    'loose, but the superheat is high',
    [saw(loose), ...circuitReadings({ superheatDegF: 34, evaporatingDegF: 26 })],
    'unproven',
    'signs disagree',
  ],
  [
    'a fixed orifice',
    [saw(loose, 'yes', withPhoto)],
    'not_applicable',
    'a fixed orifice has no sensing bulb',
    { meteringDevice: 'fixed_orifice' },
  ],
  [
    'an electronic valve',
    [saw(loose, 'yes', withPhoto)],
    'not_applicable',
    'an electronic valve has no sensing bulb',
    { meteringDevice: 'eev' },
  ],
];
test.each(rows)('sensing bulb: %s', (_name, signs, standing, reason, plate) => {
  expect(standsIndoors('loose_sensing_bulb', signs, plate)).toEqual([standing, reason]);
});
