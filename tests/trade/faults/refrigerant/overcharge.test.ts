import { expect, test } from 'vitest';
import { circuitReadings, lineSetFt, ounces } from '../../circuit-readings.ts';
import { saw } from '../../make-evidence.ts';
import { type Row, standsOutdoors } from './stands.ts';

const over = {
  evaporatingDegF: 48,
  condensingDegF: 119,
  superheatDegF: 1.5,
  subcoolingDegF: 18,
  splitDegF: 19,
};
const line = lineSetFt(35);
const orifice = { meteringDevice: 'fixed_orifice', targetSubcoolingDegF: undefined } as const;

// 35 ft of line set ask for 116 oz, 110 % of it is 127.6 oz. The plate asks for 10 F within 3 F.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['150 oz where 116 are asked for', [ounces(150), line], 'proven', 'proven'],
  [
    '127.8 oz cannot be told from 127.6',
    [ounces(127.8), line],
    'unproven',
    'undecided by this method',
  ],
  ['118 oz', [ounces(118), line], 'contradicted', 'contradicted'],
  // Air in the circuit shows high head and high subcooling too, so the readings never prove it.
  ['the whole pattern', circuitReadings(over), 'supported', 'supported'],
  ['subcooling high alone', circuitReadings({ subcoolingDegF: 15 }), 'supported', 'supported'],
  [
    '13.5 F of subcooling cannot be told from 13 F',
    circuitReadings({ subcoolingDegF: 13.5 }),
    'unproven',
    'undecided by this method',
  ],
  ['in order', circuitReadings(), 'contradicted', 'contradicted'],
  [
    'high subcooling with low suction is no overcharge',
    circuitReadings({ ...over, evaporatingDegF: 28 }),
    'unproven',
    'looked for, no sign found',
  ],
  [
    'high subcooling with a low head is no overcharge',
    circuitReadings({ ...over, condensingDegF: 103 }),
    'unproven',
    'looked for, no sign found',
  ],
  [
    'a dirty filter comes first',
    [...circuitReadings(over), saw('filter_dirty')],
    'unproven',
    'undecided by this method',
  ],
  [
    'fixed orifice: superheat under its target of 12 F and subcooling high',
    circuitReadings({ ...over, wetBulbDegF: 67, splitDegF: 16, subcoolingDegF: 21 }),
    'supported',
    'supported',
    orifice,
  ],
  [
    'fixed orifice, superheat high and subcooling high too: something holds the liquid back',
    circuitReadings({ wetBulbDegF: 67, superheatDegF: 24, subcoolingDegF: 24 }),
    'unproven',
    'looked for, no sign found',
    orifice,
  ],
  [
    'fixed orifice on its target',
    circuitReadings({ wetBulbDegF: 67, superheatDegF: 12 }),
    'contradicted',
    'contradicted',
    orifice,
  ],
];
test.each(rows)('overcharge: %s', (_name, signs, standing, reason, plate) => {
  expect(standsOutdoors('overcharge', signs, plate)).toEqual([standing, reason]);
});
