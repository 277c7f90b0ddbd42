import { expect, test } from 'vitest';
import { circuitReadings } from '../../circuit-readings.ts';
import { saw, withPhoto } from '../../make-evidence.ts';
import { type Row, standsOutdoors } from './stands.ts';

const marked = 'wrong_refrigerant_marked';
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['a label on a photo', [saw(marked, 'yes', withPhoto)], 'proven', 'proven'],
  ['a label without a photo', [saw(marked)], 'supported', 'supported'],
  // The gas in the line cannot be colder than its own boiling point.
  [
    'a suction line 6 F colder than the plate allows',
    circuitReadings({ superheatDegF: -6 }),
    'supported',
    'supported',
  ],
  [
    'a suction line 1 F colder: the clamp cannot tell',
    circuitReadings({ superheatDegF: -1 }),
    'unproven',
    'undecided by this method',
  ],
  [
    'the same on a compressor that stands still',
    [...circuitReadings({ superheatDegF: -6 }), saw('compressor_running', 'no')],
    'unproven',
    'undecided by this method',
  ],
  ['all as the plate would have it', circuitReadings(), 'unproven', 'leans against'],
];
test.each(rows)('wrong refrigerant: %s', (_name, signs, standing, reason) => {
  expect(standsOutdoors('wrong_refrigerant', signs)).toEqual([standing, reason]);
});
