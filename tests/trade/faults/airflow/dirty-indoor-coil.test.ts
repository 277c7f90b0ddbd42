import { test } from 'vitest';
import { cfm } from '../../make-airflow.ts';
import { degF, inH2O, wetBulbDegF } from '../../make-circuit.ts';
import { airHandler, makeEvidence, saw, withPhoto } from '../../make-evidence.ts';
import { expectVerdict, type Row } from './expect-verdict.ts';

const dirty = saw('indoor_coil_dirty');
const photo = saw('indoor_coil_dirty', 'yes', withPhoto);
const high = inH2O('indoor_coil_drop', 0.37);

// 0.37 is good to 0.0137 and surely above 0.35; 0.36 is not. 0.18 is surely below 0.20 (0.1918).
// 75/63 F has a published target of 18.6: 75 to 56 is a split of 19.0 and on it; the doubt is
// 1.0 F of the supply, 1.0 F of the return less 0.56 F that the target moves with it, 0.78 F
// through the wet bulb and 0.6 F of the table, less than the 3 F of the tolerance.
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['its face is seen dirty', [dirty], 'supported', 'supported'],
  ['a photo shows its face dirty', [photo], 'proven', 'proven'],
  ['it takes 0.37', [high], 'supported', 'supported'],
  ['it takes 0.36', [inH2O('indoor_coil_drop', 0.36)], 'unproven', 'undecided by this method'],
  ['seen dirty, and it takes 0.37', [dirty, high], 'proven', 'proven'],
  [
    'it takes 0.37 with ice on it',
    [high, saw('ice_on_coil_or_line')],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'seen dirty, and it takes 0.37 with ice on it',
    [dirty, high, saw('ice_on_coil_or_line')],
    'supported',
    'supported',
  ],
  ['its face is clean', [saw('indoor_coil_dirty', 'no')], 'unproven', 'leans against'],
  [
    'a photo shows its face clean',
    [saw('indoor_coil_dirty', 'no', withPhoto)],
    'contradicted',
    'contradicted',
  ],
  [
    'its face is clean, yet it takes 0.37',
    [saw('indoor_coil_dirty', 'no'), high],
    'unproven',
    'signs disagree',
  ],
  [
    'it takes 0.18 and the filter is clean',
    [inH2O('indoor_coil_drop', 0.18), saw('filter_dirty', 'no')],
    'unproven',
    'leans against',
  ],
  [
    'it takes 0.18 behind a dirty filter',
    [inH2O('indoor_coil_drop', 0.18), saw('filter_dirty')],
    'unproven',
    'looked for, no sign found',
  ],
  [
    'it takes 0.18 and nobody looked at the filter',
    [inH2O('indoor_coil_drop', 0.18)],
    'unproven',
    'undecided by this method',
  ],
  [
    'seen dirty, yet the split is on its target',
    [dirty, degF('return_air', 75), wetBulbDegF('return_air', 63), degF('supply_air', 56)],
    'unproven',
    'signs disagree',
  ],
  [
    'a photo shows it dirty, and the split is high',
    [photo, degF('return_air', 75), wetBulbDegF('return_air', 63), degF('supply_air', 49)],
    'proven',
    'proven',
  ],
  // Too little cooling may hide too little air.
  [
    'seen dirty, and the split is low',
    [dirty, degF('return_air', 75), wetBulbDegF('return_air', 63), degF('supply_air', 66)],
    'supported',
    'supported',
  ],
];

test.each(rows)('dirty indoor coil: %s', (_name, signs, standing, reason) => {
  expectVerdict('dirty_indoor_coil', airHandler(signs), standing, reason);
});

// 3 tons ask for at least 1,050 CFM; 1,160 by hood is good to 41.8, 1,080 to 39.4.
test.each([
  ['1,160 CFM is enough', 1160, 'proven, with the doubt named'],
  ['1,080 CFM may be too little', 1080, 'proven'],
])('a dirty coil in the photo, 3 tons: %s', (_name, flow, reason) => {
  const evidence = airHandler([photo, cfm(flow)], { tons: 3 });
  expectVerdict('dirty_indoor_coil', evidence, 'proven', reason);
});

test('a furnace without a coil of its own has none to clean', () => {
  const evidence = makeEvidence('furnace', {}, [dirty]);
  const reason = 'this fault is not found on a furnace';
  expectVerdict('dirty_indoor_coil', evidence, 'not_applicable', reason);
});
