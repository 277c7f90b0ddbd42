import { describe, expect, it } from 'vitest';
import { addedChances, binomialChances, upperTail } from '../../../src/auditing/index.ts';

describe('counts that know nothing of each other', () => {
  // Two halves of ten thousand trials of one chance are the ten thousand, however far out one looks.
  it.each([900, 1_000, 1_100, 1_300, 1_500])(
    '%i or more of many are as likely as in one',
    (count) => {
      const half = binomialChances(5_000, 0.1);
      const whole = upperTail(binomialChances(10_000, 0.1), count);
      expect(upperTail(addedChances([half, half]), count) / whole).toBeCloseTo(1, 9);
    },
  );

  it('have as many sums as there are, the impossible ones among them', () => {
    const never = binomialChances(3, 0);
    const always = binomialChances(2, 1);
    expect([...addedChances([never, always])]).toEqual([0, 0, 1, 0, 0, 0]);
    expect([...addedChances([])]).toEqual([1]);
  });
});
