import { expect, test } from 'vitest';
import { inH2O } from '../../make-circuit.ts';
import { airHandler, outdoorUnit, saw, withPhoto } from '../../make-evidence.ts';
import { expectVerdict, type Row } from './expect-verdict.ts';

const dirty = saw('filter_dirty');
const clean = saw('filter_dirty', 'no');

// The manometer is good to 1 % and 0.01: 0.27 is surely above 0.25 (0.2573), 0.26 is not (0.2474);
// 0.08 is surely below 0.10 (0.0908), 0.09 is not (0.1009).
const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['it is seen dirty', [dirty], 'supported', 'supported'],
  ['a photo shows it dirty', [saw('filter_dirty', 'yes', withPhoto)], 'supported', 'supported'],
  ['it takes 0.27', [inH2O('filter_drop', 0.27)], 'supported', 'supported'],
  ['dirty and takes 0.27', [dirty, inH2O('filter_drop', 0.27)], 'proven', 'proven'],
  ['dirty and takes 0.26', [dirty, inH2O('filter_drop', 0.26)], 'supported', 'supported'],
  ['0.26 alone', [inH2O('filter_drop', 0.26)], 'unproven', 'undecided by this method'],
  ['clean', [clean], 'contradicted', 'contradicted'],
  // A clean filter that is too dense is not dirty.
  ['clean, and takes 0.40', [clean, inH2O('filter_drop', 0.4)], 'contradicted', 'contradicted'],
  ['it takes 0.08', [inH2O('filter_drop', 0.08)], 'unproven', 'leans against'],
  ['it takes 0.09', [inH2O('filter_drop', 0.09)], 'unproven', 'undecided by this method'],
  ['dirty, yet takes 0.08', [dirty, inH2O('filter_drop', 0.08)], 'unproven', 'signs disagree'],
  [
    'dirty, and no pressure at all while the fan stood',
    [dirty, saw('indoor_fan_running', 'no'), inH2O('filter_drop', 0.01)],
    'supported',
    'supported',
  ],
  [
    'two pressures that disagree',
    [inH2O('filter_drop', 0.45), inH2O('filter_drop', 0.12, 5)],
    'unproven',
    'readings disagree, measure again',
  ],
];

test.each(rows)('dirty filter: %s', (_name, signs, standing, reason) => {
  expectVerdict('dirty_filter', airHandler(signs), standing, reason);
});

test('no filter is looked for outdoors', () => {
  const reason = 'this fault is not found on a condensing unit';
  expectVerdict('dirty_filter', outdoorUnit([dirty]), 'not_applicable', reason);
});

test('the pressure stands on the paper with its limit', () => {
  const evidence = airHandler([inH2O('filter_drop', 0.27)]);
  const { criteria } = expectVerdict('dirty_filter', evidence, 'supported', 'supported');
  const drop = criteria.find(({ id }) => id === 'takes_too_much');
  expect(drop?.detail).toBe(
    '0.27 in. w.c. measured by manometer; the limit is 0.25 in. w.c.; this method is good to 0.01 in. w.c.',
  );
  expect(drop?.measurement).toMatchObject({ value: 0.27, high: 0.25 });
});
