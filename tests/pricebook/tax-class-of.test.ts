import { expect, test } from 'vitest';
import { taxClassOf } from '../../src/pricebook/index.ts';

const pack = { unit: '[lb_av]', packQuantity: '25' };

test.each([
  ['a part is taxed as a part', { fit: { category: 'contactor' } }, 'part'],
  [
    'what is sold by measure, as material',
    { fit: { category: 'refrigerant' }, measured: pack },
    'material',
  ],
  ['a whole machine, as equipment', { fit: { category: 'outdoor_unit' } }, 'equipment'],
  [
    'what the book says, as it says',
    { fit: { category: 'outdoor_unit' }, taxClass: 'part' },
    'part',
  ],
] as const)('%s', (_name, part, taxClass) => {
  expect(taxClassOf(part)).toBe(taxClass);
});
