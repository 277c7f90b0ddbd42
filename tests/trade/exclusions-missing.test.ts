import { expect, test } from 'vitest';
import { exclusionsMissing } from '../../src/trade/index.ts';
import { outdoorUnit, volts } from './make-evidence.ts';

test('a contactor is not blamed before the voltage at its coil is known', () => {
  expect(exclusionsMissing('worn_contactor', outdoorUnit([]))).toHaveLength(1);
  expect(exclusionsMissing('worn_contactor', outdoorUnit([volts('contactor_coil', 25)]))).toEqual(
    [],
  );
});

test('a reported figure excludes nothing', () => {
  const reported = volts('contactor_coil', 25, { source: 'reported' });
  expect(exclusionsMissing('worn_contactor', outdoorUnit([reported]))).toHaveLength(1);
});
