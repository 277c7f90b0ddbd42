import { test } from 'vitest';
import { cfm } from '../../make-airflow.ts';
import { degF } from '../../make-circuit.ts';
import { airHandler, makeEvidence, saw, withPhoto } from '../../make-evidence.ts';
import { expectVerdict, type Row } from './expect-verdict.ts';

const dirty = saw('blower_wheel_dirty');
const photo = saw('blower_wheel_dirty', 'yes', withPhoto);

const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['its blades are seen caked', [dirty], 'supported', 'supported'],
  ['a photo shows them caked', [photo], 'proven', 'proven'],
  ['its blades are clean', [saw('blower_wheel_dirty', 'no')], 'contradicted', 'contradicted'],
  ['caked, and 1,400 CFM for 3 tons', [dirty, cfm(1400)], 'unproven', 'signs disagree'],
  [
    'caked in the photo, and 1,400 CFM for 3 tons',
    [photo, cfm(1400)],
    'proven',
    'proven, with the doubt named',
  ],
  ['1,400 CFM for 3 tons', [cfm(1400)], 'unproven', 'leans against'],
  ['700 CFM for 3 tons', [cfm(700)], 'unproven', 'looked for, no sign found'],
];

test.each(rows)('dirty blower wheel: %s', (_name, signs, standing, reason) => {
  expectVerdict('dirty_blower_wheel', airHandler(signs, { tons: 3 }), standing, reason);
});

// q = 1.08 x CFM x rise: 80,000 Btu/h at 80 % over 40 F is 1,481 CFM, over 70 F only 847.
test.each([
  ['a rise of 40 F shows enough air', 110, 'unproven', 'leans against'],
  ['a rise of 70 F shows too little', 140, 'unproven', 'looked for, no sign found'],
] as const)('a furnace of 80,000 Btu/h and 80 %%: %s', (_name, supply, standing, reason) => {
  const plate = { tons: 3, heatInputBtuh: 80_000, heatEfficiencyPercent: 80 };
  const evidence = makeEvidence('furnace', plate, [
    degF('heating_return_air', 70),
    degF('heating_supply_air', supply),
  ]);
  expectVerdict('dirty_blower_wheel', evidence, standing, reason);
});
