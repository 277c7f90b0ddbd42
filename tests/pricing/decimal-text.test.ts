import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { decimalText } from '../../src/pricing/index.ts';

describe('a fraction written out', () => {
  it.each([
    [2n, 3n, 4, '0.6667', false],
    [1n, 3n, 4, '0.3333', false],
    [1n, 8n, 4, '0.1250', true],
    [1n, 8n, 2, '0.13', false],
    [-1n, 8n, 2, '-0.13', false],
    [-1n, 1000n, 2, '0.00', false],
    [15n, 2n, 0, '8', false],
    [14_783_044n, 115_200n, 4, '128.3250', false],
    [0n, 7n, 2, '0.00', true],
  ])('%d / %d to %d digits is %s', (numerator, denominator, digits, text, isExact) => {
    expect(decimalText({ numerator, denominator }, digits)).toEqual({ text, isExact });
  });

  it('is never more than half a last digit away, and says whether it is the whole truth', () => {
    const fraction = fc.tuple(
      fc.bigInt({ min: -(10n ** 30n), max: 10n ** 30n }),
      fc.bigInt({ min: 1n, max: 10n ** 20n }),
      fc.integer({ min: 0, max: 8 }),
    );
    fc.assert(
      fc.property(fraction, ([numerator, denominator, digits]) => {
        const { text, isExact } = decimalText({ numerator, denominator }, digits);
        expect(text).toMatch(digits === 0 ? /^-?\d+$/ : new RegExp(`^-?\\d+\\.\\d{${digits}}$`));
        const shown = BigInt(text.replace('.', ''));
        const off = shown * denominator - numerator * 10n ** BigInt(digits);
        expect(2n * (off < 0n ? -off : off) <= denominator).toBe(true);
        expect(off === 0n).toBe(isExact);
      }),
    );
  });
});
