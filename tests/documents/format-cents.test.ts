import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { formatCents } from '../../src/documents/index.ts';

describe('money on paper', () => {
  it.each([
    [0, '$0.00'],
    [-0, '$0.00'],
    [5, '$0.05'],
    [123_456, '$1,234.56'],
    [100_000_000, '$1,000,000.00'],
    [-1_510, '−$15.10'],
    [Number.MAX_SAFE_INTEGER, '$90,071,992,547,409.91'],
  ])('%d cents is written %s', (amountCents, text) => {
    expect(formatCents(amountCents)).toBe(text);
  });

  it.each([0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])('refuses %d', (amountCents) => {
    expect(() => formatCents(amountCents)).toThrow(RangeError);
  });

  it('can be read back to the very same cents', () => {
    fc.assert(
      fc.property(fc.maxSafeInteger(), (amountCents) => {
        const digits = formatCents(amountCents).replace(/[$,.]/g, '').replace('−', '-');
        expect(Number(digits)).toBe(amountCents);
      }),
    );
  });
});
