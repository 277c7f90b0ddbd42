import { describe, expect, it } from 'vitest';
import { formatDecimal } from '../../src/documents/format-decimal.ts';
import { formatUncertainty } from '../../src/documents/format-uncertainty.ts';

describe('a reading on paper', () => {
  it.each([
    [31.2, 1, '31.2'],
    [4, 2, '4.00'],
    [1_234.5, 1, '1,234.5'],
    [-4.2, 0, '−4'],
    [-0.04, 1, '0.0'],
    [0.62, 2, '0.62'],
  ])('%d with %d decimals is written %s', (value, decimals, text) => {
    expect(formatDecimal(value, decimals)).toBe(text);
  });

  it.each([
    ['as exact as the reading', 0.9, 1, '0.9'],
    ['finer than the reading, and never a mere zero', 0.4, 0, '0.4'],
    ['too fine to tell', 0.000_001, 1, undefined],
    ['nothing', 0, 1, undefined],
    ['unknown', undefined, 1, undefined],
  ])('says of an uncertainty %s what is true', (_, uncertainty, decimals, text) => {
    expect(formatUncertainty(uncertainty, decimals)).toBe(text);
  });
});
