import { expect, test } from 'vitest';
import { exclusionsMissing } from '../../../../src/trade/index.ts';
import { circuitReadings } from '../../circuit-readings.ts';
import { airHandler, type Sign, saw } from '../../make-evidence.ts';
import { type Row, standsIndoors, standsOutdoors } from './stands.ts';

const starved = circuitReadings({
  evaporatingDegF: 26,
  condensingDegF: 111,
  superheatDegF: 34,
  subcoolingDegF: 14,
  splitDegF: 10,
});
const flooded = circuitReadings({ superheatDegF: 0.5, evaporatingDegF: 48, splitDegF: 14 });
const cleared: Sign[] = [saw('filter_dirty', 'no'), saw('sensing_bulb_loose', 'no')];
const stuck = saw('superheat_follows_bulb', 'no');
const frosted = saw('metering_device_frosted');

// A valve that works holds 4 to 25 F (California field-verification protocol RA3.2).
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  [
    'starves, frost at the valve, does not follow its tight bulb',
    [...starved, ...cleared, stuck, frosted],
    'proven',
    'proven',
  ],
  [
    'the same without a look where the frost begins',
    [...starved, ...cleared, stuck],
    'supported',
    'supported',
  ],
  [
    'the same with a loose bulb: fasten it first',
    [...starved, saw('filter_dirty', 'no'), saw('sensing_bulb_loose'), stuck, frosted],
    'supported',
    'supported',
  ],
  [
    'floods at normal head and subcooling, does not follow its tight bulb',
    [...flooded, ...cleared, stuck],
    'proven',
    'proven',
  ],
  ['floods, bulb not tried', [...flooded, ...cleared], 'supported', 'supported'],
  [
    'floods with a high head: too much charge does that',
    [
      ...circuitReadings({ superheatDegF: 0.5, condensingDegF: 120, subcoolingDegF: 18 }),
      ...cleared,
    ],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'a low charge starves a sound valve',
    [
      ...circuitReadings({
        evaporatingDegF: 30,
        condensingDegF: 106,
        superheatDegF: 32,
        subcoolingDegF: 2,
      }),
      ...cleared,
    ],
    'unproven',
    'looked for, no sign found',
  ],
  ['a bulb that nothing follows, alone', [stuck], 'supported', 'supported'],
  ['it follows its bulb', [saw('superheat_follows_bulb')], 'unproven', 'leans against'],
  ['it holds its superheat', [...circuitReadings(), stuck], 'contradicted', 'contradicted'],
  [
    'a fixed orifice has no bulb to try',
    [...starved, ...cleared, stuck, frosted],
    'unproven',
    'undecided by this method',
    { meteringDevice: 'fixed_orifice', targetSubcoolingDegF: undefined },
  ],
  [
    'an electronic valve that starves is never proven by a bulb',
    [...starved, ...cleared, stuck, frosted],
    'supported',
    'supported',
    { meteringDevice: 'eev' },
  ],
];
test.each(rows)('metering device: %s', (_name, signs, standing, reason, plate) => {
  expect(standsIndoors('failed_metering_device', signs, plate)).toEqual([standing, reason]);
});

test('a condensing unit holds no metering device', () => {
  expect(standsOutdoors('failed_metering_device', starved)[0]).toBe('not_applicable');
});

test('it is not sold before charge, drier, airflow, ice and bulb were looked at', () => {
  expect(exclusionsMissing('failed_metering_device', airHandler([stuck]))).toHaveLength(5);
  const looked = [...starved, ...cleared, stuck, saw('ice_on_coil_or_line', 'no')];
  expect(exclusionsMissing('failed_metering_device', airHandler(looked))).toEqual([]);
});
