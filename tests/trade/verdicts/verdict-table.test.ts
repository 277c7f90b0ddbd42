import { expect, test } from 'vitest';
import { verdictTable } from '../../../src/trade/verdicts/verdict-table.ts';

// The nine cells, copied by hand from the company's written rule before the table was coded.
const cells = [
  ['none', 'none', 'unproven', 'nothing recorded'],
  ['none', 'indicative', 'unproven', 'leans against'],
  ['none', 'decisive', 'contradicted', 'contradicted'],
  ['indicative', 'none', 'supported', 'supported'],
  ['indicative', 'indicative', 'unproven', 'signs disagree'],
  ['indicative', 'decisive', 'contradicted', 'contradicted'],
  ['decisive', 'none', 'proven', 'proven'],
  ['decisive', 'indicative', 'proven', 'proven, with the doubt named'],
  ['decisive', 'decisive', 'unproven', 'readings disagree, measure again'],
] as const;

test.each(cells)(
  'signs for: %s, signs against: %s -> %s (%s)',
  (forIt, against, standing, reason) => {
    expect(verdictTable[forIt][against]).toEqual({ standing, reason });
  },
);

test('there is no tenth cell', () => {
  expect(Object.values(verdictTable).flatMap((row) => Object.keys(row))).toHaveLength(cells.length);
});
