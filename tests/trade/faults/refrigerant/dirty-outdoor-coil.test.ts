import { expect, test } from 'vitest';
import { circuitReadings } from '../../circuit-readings.ts';
import { saw, withPhoto } from '../../make-evidence.ts';
import { type Row, standsOutdoors } from './stands.ts';

const dirty = 'outdoor_coil_dirty';
const fell = 'outdoor_coil_cleared_pressure_fell';
const hot = {
  evaporatingDegF: 47.5,
  condensingDegF: 121,
  superheatDegF: 2,
  subcoolingDegF: 5,
  splitDegF: 19,
};
const fanRuns = saw('outdoor_fan_running');

// From 14 SEER on a clean condenser of the right charge condenses 15 to 20 F above the outdoor air.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'matted on a photo and 26 F above the outdoor air',
    [...circuitReadings(hot), saw(dirty, 'yes', withPhoto)],
    'proven',
    'proven',
  ],
  ['the same without a photo', [...circuitReadings(hot), saw(dirty)], 'supported', 'supported'],
  ['matted on a photo, head not read', [saw(dirty, 'yes', withPhoto)], 'supported', 'supported'],
  [
    'matted on a photo, 17 F above the outdoor air',
    [...circuitReadings(), saw(dirty, 'yes', withPhoto)],
    'unproven',
    'signs disagree',
  ],
  ['seen dirty, and the pressure fell when cleared', [saw(dirty), saw(fell)], 'proven', 'proven'],
  ['the pressure fell when rinsed: water cools any coil', [saw(fell)], 'supported', 'supported'],
  [
    'seen clean, and the pressure fell when rinsed',
    [saw(dirty, 'no'), saw(fell)],
    'unproven',
    'signs disagree',
  ],
  ['it did not fall', [saw(fell, 'no'), saw(dirty)], 'contradicted', 'contradicted'],
  ['the pattern while the fan runs', [...circuitReadings(hot), fanRuns], 'supported', 'supported'],
  [
    'the pattern while the fan stands still',
    [...circuitReadings(hot), saw('outdoor_fan_running', 'no')],
    'unproven',
    'undecided by this method',
  ],
  [
    'a high head at high subcooling is something else',
    [...circuitReadings({ ...hot, subcoolingDegF: 18 }), fanRuns],
    'unproven',
    'looked for, no sign found',
  ],
  ['clean on all sides', [saw(dirty, 'no')], 'unproven', 'leans against'],
];
test.each(rows)('outdoor coil: %s', (_name, signs, standing, reason) => {
  expect(standsOutdoors('dirty_outdoor_coil', signs)).toEqual([standing, reason]);
});
