import { expect, test } from 'vitest';
import { circuitReadings, clamp } from '../../circuit-readings.ts';
import { saw } from '../../make-evidence.ts';
import { type Row, standsOutdoors } from './stands.ts';

const restricted = {
  evaporatingDegF: 26,
  condensingDegF: 111,
  superheatDegF: 34,
  subcoolingDegF: 14,
  splitDegF: 10,
};
const runs = saw('compressor_running');
const drier = (before: number, after: number) => [
  clamp('filter_drier_in', before),
  clamp('filter_drier_out', after),
];

// Two clamps of 1.3 F each: together 1.84 F. More than 3 F is a restriction; common practice, no source.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    '9 F across the drier, but nobody read the gauges: flash gas of a low charge cools too',
    [runs, ...drier(97, 88)],
    'unproven',
    'undecided by this method',
  ],
  ['4 F cannot be told from 3 F', [runs, ...drier(97, 93)], 'unproven', 'undecided by this method'],
  ['9 F, nobody looked whether it runs', drier(97, 88), 'unproven', 'undecided by this method'],
  ['0.5 F across it', [runs, ...drier(97, 96.5)], 'unproven', 'leans against'],
  [
    'only one side measured',
    [runs, clamp('filter_drier_in', 97)],
    'unproven',
    'undecided by this method',
  ],
  [
    'the pattern with the drop',
    circuitReadings({ ...restricted, drierDropDegF: 9 }),
    'proven',
    'proven',
  ],
  [
    'the pattern, drier clear: it may be elsewhere',
    circuitReadings(restricted),
    'unproven',
    'signs disagree',
  ],
  // Too little liquid boils on its way through a sound drier.
  [
    '9 F across the drier of a low charge',
    circuitReadings({ ...restricted, subcoolingDegF: 2, condensingDegF: 106, drierDropDegF: 9 }),
    'unproven',
    'leans against',
  ],
  [
    '9 F across the drier, 2 minutes after it was first seen to run',
    [
      ...circuitReadings({ ...restricted, drierDropDegF: 9 }),
      saw('compressor_running', 'yes', { at: '2026-07-14T14:58:00Z' }),
    ],
    'unproven',
    'undecided by this method',
  ],
  [
    'low subcooling is no restriction',
    circuitReadings({ ...restricted, subcoolingDegF: 2, condensingDegF: 106 }),
    'unproven',
    'leans against',
  ],
];
test.each(rows)('restriction: %s', (_name, signs, standing, reason) => {
  expect(standsOutdoors('liquid_line_restriction', signs)).toEqual([standing, reason]);
});

test('the pattern alone, drier never measured, is a hint', () => {
  const signs = circuitReadings(restricted).filter(
    (sign) => !('reading' in sign && sign.reading.point.startsWith('filter_drier')),
  );
  expect(standsOutdoors('liquid_line_restriction', signs)).toEqual(['supported', 'supported']);
});
