import { expect, test } from 'vitest';
import { circuitReadings } from '../../circuit-readings.ts';
import { saw, withPhoto } from '../../make-evidence.ts';
import { type Row, standsOutdoors } from './stands.ts';

const marked = 'wrong_refrigerant_marked';
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'a label on a photo: it may tell of a lawful retrofit',
    [saw(marked, 'yes', withPhoto)],
    'supported',
    'supported',
  ],
  ['an identifier shows another one', [saw('refrigerant_identified_as_other')], 'proven', 'proven'],
  [
    'an identifier shows the right one, whatever the label says',
    [saw('refrigerant_identified_as_other', 'no'), saw(marked, 'yes', withPhoto)],
    'contradicted',
    'contradicted',
  ],
  // The liquid in the line cannot be warmer than its own boiling point.
  [
    'a liquid line 8 F warmer than the plate allows',
    circuitReadings({ subcoolingDegF: -8 }),
    'supported',
    'supported',
  ],
  [
    'a liquid line 1 F warmer: gauge and clamp cannot tell',
    circuitReadings({ subcoolingDegF: -1 }),
    'unproven',
    'undecided by this method',
  ],
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
// Flashing, a blend is warmer than it boils at by as much as its glide.
test('a blend of marked glide may show 5 F below zero without being another', () => {
  const glide = { refrigerant: 'R-407C' } as const;
  const signs = circuitReadings({ ...glide, subcoolingDegF: -5 });
  expect(standsOutdoors('wrong_refrigerant', signs, glide)[0]).toBe('unproven');
});

test.each(rows)('wrong refrigerant: %s', (_name, signs, standing, reason) => {
  expect(standsOutdoors('wrong_refrigerant', signs)).toEqual([standing, reason]);
});
