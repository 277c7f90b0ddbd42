import { expect, test } from 'vitest';
import { circuitReadings, lineSetFt, ounces } from '../../circuit-readings.ts';
import { saw, withPhoto } from '../../make-evidence.ts';
import { type Row, standsIndoors, standsOutdoors } from './stands.ts';

const searched = saw('refrigerant_leak_looked_for');
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'bubbles at one place with a photo',
    [saw('bubbles_at_leak', 'yes', withPhoto)],
    'proven',
    'proven',
  ],
  ['bubbles without a photo', [saw('bubbles_at_leak')], 'supported', 'supported'],
  [
    'the detector alarms twice at one place: it alarms at other vapors too',
    [saw('leak_detector_alarms')],
    'supported',
    'supported',
  ],
  [
    'the detector alarms and leak solution bubbles',
    [saw('leak_detector_alarms'), saw('bubbles_at_leak')],
    'proven',
    'proven',
  ],
  [
    'the detector alarms, and the charge is low by weight',
    [saw('leak_detector_alarms'), ounces(80), lineSetFt(35)],
    'proven',
    'proven',
  ],
  [
    'the detector alarms, and the charge is low by its readings',
    [
      saw('leak_detector_alarms'),
      ...circuitReadings({
        evaporatingDegF: 30,
        superheatDegF: 32,
        subcoolingDegF: 2,
        splitDegF: 12,
      }),
    ],
    'proven',
    'proven',
  ],
  [
    'the detector alarms, and the charge is right',
    [saw('leak_detector_alarms'), saw('bubbles_at_leak', 'no'), ...circuitReadings()],
    'supported',
    'supported',
  ],
  ['oil at a joint', [saw('refrigerant_oil_seen')], 'supported', 'supported'],
  ['a charge that is low by weight', [ounces(80), lineSetFt(35)], 'supported', 'supported'],
  [
    'a charge that is low by its readings',
    circuitReadings({ evaporatingDegF: 30, superheatDegF: 32, subcoolingDegF: 2, splitDegF: 12 }),
    'supported',
    'supported',
  ],
  [
    'searched in vain',
    [searched, saw('leak_detector_alarms', 'no'), saw('bubbles_at_leak', 'no')],
    'unproven',
    'leans against',
  ],
  ['searched, and nothing else said', [searched], 'unproven', 'undecided by this method'],
  [
    'what the caller heard',
    [saw('leak_detector_alarms', 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];
test.each(rows)('leak: %s', (_name, signs, standing, reason) => {
  expect(standsOutdoors('refrigerant_leak', signs)).toEqual([standing, reason]);
});

test('an indoor coil leaks as well as an outdoor one', () => {
  const bubbles = saw('bubbles_at_leak', 'yes', withPhoto);
  expect(standsIndoors('refrigerant_leak', [bubbles])[0]).toBe('proven');
});
