import { expect, test } from 'vitest';
import { targetSubcooling } from '../../../src/trade/refrigerant/target-subcooling.ts';

test('the nameplate rules, within 3 F', () => {
  expect(targetSubcooling(9)).toEqual({ degF: 9, lowDegF: 6, highDegF: 12, basis: 'nameplate' });
});

// Common practice, no source.
test('without a figure it is 10 F, 8 to 12, and says that this is only common practice', () => {
  expect(targetSubcooling(undefined)).toEqual({
    degF: 10,
    lowDegF: 8,
    highDegF: 12,
    basis: 'common_practice',
  });
});

// By hand: plate 9 F, measured 4.5 F, 4.5 F under it.
test('4.5 F against a plate of 9 F is low', () => {
  const { degF, lowDegF } = targetSubcooling(9);
  expect(4.5 - degF).toBe(-4.5);
  expect(4.5).toBeLessThan(lowDegF);
});
