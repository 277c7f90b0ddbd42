import { expect, test } from 'vitest';
import { admitEvidence } from '../../../src/trade/facts/admit-evidence.ts';
import type { Nameplate } from '../../../src/trade/index.ts';
import { airSignReaders } from '../../../src/trade/signs/air.ts';
import { degF, inH2O, wetBulbDegF } from '../make-circuit.ts';
import { airHandler, type Sign, saw } from '../make-evidence.ts';

type Row = [
  name: string,
  code: keyof typeof airSignReaders,
  signs: Sign[],
  expected: string | undefined,
  plate?: Nameplate,
];

/** A house at 75/63 F, whose published target is a split of 18.6 F, give or take 3 F. */
const at75 = (supplyDegF: number): Sign[] => [
  degF('return_air', 75),
  wetBulbDegF('return_air', 63),
  degF('supply_air', supplyDegF),
];
const statics = (back: number, supply: number): Sign[] => [
  inH2O('return_static', back),
  inH2O('supply_static', supply),
];

const rows: Row[] = [
  ['nothing measured', 'split', [], undefined],
  ['19 F', 'split', at75(56), 'fine'],
  ['26 F, too cold', 'split', at75(49), 'high'],
  ['9 F', 'split', at75(66), 'low'],
  // 21.6 F is the limit itself.
  ['21.6 F is too near to tell', 'split', at75(53.4), undefined],
  ['15.6 F is too near to tell', 'split', at75(59.4), undefined],
  [
    'no target for a house of 88 F',
    'split',
    [degF('return_air', 88), wetBulbDegF('return_air', 72), degF('supply_air', 70)],
    undefined,
  ],
  [
    '2 F in a house of 88 F',
    'split',
    [degF('return_air', 88), wetBulbDegF('return_air', 72), degF('supply_air', 86)],
    'low',
  ],
  ['2 F without a wet bulb', 'split', [degF('return_air', 78), degF('supply_air', 76)], 'low'],
  ['19 F without a wet bulb', 'split', [degF('return_air', 75), degF('supply_air', 56)], undefined],

  ['only the return', 'external_static', [inH2O('return_static', -0.3)], undefined],
  ['0.65 in. w.c.', 'external_static', statics(-0.2, 0.45), 'high'],
  ['0.40 in. w.c.', 'external_static', statics(-0.15, 0.25), 'fine'],
  ['0.51 in. w.c.', 'external_static', statics(-0.2, 0.31), undefined],
  [
    '0.65 in. w.c. of 0.80 on the plate',
    'external_static',
    statics(-0.2, 0.45),
    'fine',
    { externalStaticMaxInWc: 0.8 },
  ],
  [
    'the fan stood',
    'external_static',
    [saw('indoor_fan_running', 'no'), ...statics(-0.01, 0.01)],
    undefined,
  ],

  ['0.40 in. w.c.', 'filter_drop', [inH2O('filter_drop', 0.4)], 'high'],
  ['0.12 in. w.c.', 'filter_drop', [inH2O('filter_drop', 0.12)], 'fine'],
  ['0.25 in. w.c.', 'filter_drop', [inH2O('filter_drop', 0.25)], undefined],
  [
    'the fan stood',
    'filter_drop',
    [saw('indoor_fan_running', 'no'), inH2O('filter_drop', 0)],
    undefined,
  ],
  ['0.50 in. w.c.', 'indoor_coil_drop', [inH2O('indoor_coil_drop', 0.5)], 'high'],
  ['0.22 in. w.c.', 'indoor_coil_drop', [inH2O('indoor_coil_drop', 0.22)], 'fine'],
  ['0.36 in. w.c.', 'indoor_coil_drop', [inH2O('indoor_coil_drop', 0.36)], undefined],
  [
    'two that disagree',
    'indoor_coil_drop',
    [inH2O('indoor_coil_drop', 0.5), inH2O('indoor_coil_drop', 0.2, 5)],
    undefined,
  ],
];

test.each(rows)('%s: %s', (_name, code, signs, expected, plate = {}) => {
  expect(airSignReaders[code](admitEvidence(airHandler(signs, plate)))).toBe(expected);
});
