import { describe, expect, it } from 'vitest';
import { betterOfAgreements } from '../../src/pricing/index.ts';

const agreed = { code: 'comfort', name: 'Comfort', discounts: { visit_fee: '0.25', part: '0.1' } };

describe('what a member agreed to is never taken away by a later book', () => {
  it.each([
    ['a smaller share', { visit_fee: '0.000001', part: '0.1' }, { visit_fee: '0.25', part: '0.1' }],
    ['a share left out', { part: '0.1' }, { visit_fee: '0.25', part: '0.1' }],
    ['no share at all', {}, { visit_fee: '0.25', part: '0.1' }],
    ['a higher share', { visit_fee: '0.5' }, { visit_fee: '0.5', part: '0.1' }],
    ['the same share written otherwise', { part: '0.100' }, { visit_fee: '0.25', part: '0.1' }],
    [
      'a share on another class',
      { labor: '0.2' },
      { visit_fee: '0.25', part: '0.1', labor: '0.2' },
    ],
  ])('%s', (_, discounts, expected) => {
    const better = betterOfAgreements(agreed, { code: 'comfort', name: 'Comfort Plus', discounts });
    expect(better).toEqual({ ...agreed, discounts: expected });
  });
});
