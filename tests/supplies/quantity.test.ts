import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { isWhole, quantityText, thousandthsOf } from '../../src/supplies/quantity.ts';

describe('a quantity', () => {
  it.each([
    ['2.5', 2_500n],
    ['-12', -12_000n],
    ['0', 0n],
    ['0.005', 5n],
    ['-0.5', -500n],
    ['999999.999', 999_999_999n],
  ])('%s is %s thousandths, and back', (text, thousandths) => {
    expect(thousandthsOf(text)).toBe(thousandths);
    expect(quantityText(thousandths)).toBe(text);
  });

  it('written with zeros behind it is the same quantity', () => {
    expect(thousandthsOf('-3.100')).toBe(-3_100n);
    expect(isWhole('3.000')).toBe(true);
    expect(isWhole('3.001')).toBe(false);
    expect(isWhole('-0.5')).toBe(false);
  });

  it('comes back from its text, whatever it is', () => {
    fc.assert(
      fc.property(fc.bigInt({ min: -(10n ** 12n), max: 10n ** 12n }), (thousandths) => {
        expect(thousandthsOf(quantityText(thousandths))).toBe(thousandths);
      }),
    );
  });
});
