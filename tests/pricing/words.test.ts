import { describe, expect, it } from 'vitest';
import {
  dollarsText,
  goodsUnitSchema,
  measuredText,
  minutesText,
  percentText,
} from '../../src/pricing/index.ts';

describe('numbers as a customer reads them', () => {
  it.each([
    [0, '$0.00'],
    [5, '$0.05'],
    [11325, '$113.25'],
    [-1510, '-$15.10'],
    [-5, '-$0.05'],
    [100000, '$1,000.00'],
    [123456789, '$1,234,567.89'],
    [Number.MAX_SAFE_INTEGER, '$90,071,992,547,409.91'],
  ])('%s cents is %s', (amount, text) => {
    expect(dollarsText(amount)).toBe(text);
  });

  it.each([
    ['0', '0%'],
    ['1', '100%'],
    ['0.2', '20%'],
    ['0.20', '20%'],
    ['0.0825', '8.25%'],
    ['0.08875', '8.875%'],
    ['0.005', '0.5%'],
    ['0.333333', '33.3333%'],
  ])('%s is %s', (share, text) => {
    expect(percentText(share)).toBe(text);
  });

  it('goods are measured in words, not in codes', () => {
    const said = goodsUnitSchema.options.map((unit) => measuredText('2.5', unit));
    expect(said).toEqual(['2.5 lb', '2.5 oz', '2.5 ft', '2.5 in', '2.5 gal']);
  });

  it('one minute is not "1 minutes"', () => {
    expect([minutesText(1), minutesText(45)]).toEqual(['1 minute', '45 minutes']);
  });
});
