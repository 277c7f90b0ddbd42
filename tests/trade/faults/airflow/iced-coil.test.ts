import { expect, test } from 'vitest';
import { causeSearch } from '../../../../src/trade/index.ts';
import { airHandler, saw, withPhoto } from '../../make-evidence.ts';
import { expectVerdict, type Row } from './expect-verdict.ts';

const later = { at: '2026-07-14T17:30:00Z' };

const rows: Row[] = [
  ['nothing recorded', [], 'unproven', 'nothing recorded'],
  ['ice is seen', [saw('ice_on_coil_or_line')], 'proven', 'proven'],
  ['a photo shows ice', [saw('ice_on_coil_or_line', 'yes', withPhoto)], 'proven', 'proven'],
  ['no ice', [saw('ice_on_coil_or_line', 'no')], 'contradicted', 'contradicted'],
  [
    'ice that has melted since',
    [saw('ice_on_coil_or_line'), saw('ice_on_coil_or_line', 'no', later)],
    'proven',
    'proven',
  ],
  [
    'ice that formed while everybody watched',
    [saw('ice_on_coil_or_line', 'no'), saw('ice_on_coil_or_line', 'yes', later)],
    'proven',
    'proven',
  ],
  [
    'ice the customer told of',
    [saw('ice_on_coil_or_line', 'yes', { source: 'reported' })],
    'unproven',
    'nothing recorded',
  ],
];

test.each(rows)('ice on the indoor coil: %s', (_name, signs, standing, reason) => {
  expectVerdict('iced_coil', airHandler(signs), standing, reason);
});

test('tracing the ice is not done until somebody looked for its cause', () => {
  const { observations } = airHandler([saw('ice_on_coil_or_line')]);
  expect(causeSearch('iced_coil', observations)).toBe('missing');
  const searched = airHandler([saw('ice_cause_looked_for')]).observations;
  expect(causeSearch('iced_coil', searched)).toBe('recorded');
});
