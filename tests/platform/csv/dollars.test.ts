import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { readDollars } from '../../../src/platform/csv/read-dollars.ts';
import { writeDollars } from '../../../src/platform/csv/write-dollars.ts';

describe('an amount in a cell', () => {
  it.each([
    ['18.40', 1_840],
    // Spreadsheets drop the last zeros.
    ['18.4', 1_840],
    ['18', 1_800],
    ['$18.40', 1_840],
    ['0', 0],
    ['0.07', 7],
    ['007.5', 750],
    ['$1,234.50', 123_450],
    ['1,234,567', 123_456_700],
    ['999999999999.99', 99_999_999_999_999],
    ['999,999,999,999.99', 99_999_999_999_999],
    // 1.005 * 100 and 4.35 * 100 are no whole numbers in binary fractions.
    ['4.35', 435],
    ['1.15', 115],
  ])('%s is %i cents', (cell, amountCents) => {
    expect(readDollars(cell)).toBe(amountCents);
    expect(readDollars(cell, { signed: true })).toBe(amountCents);
  });

  it.each([
    ['-12', -1_200],
    ['-$1,234.50', -123_450],
    ['-0.05', -5],
    ['-0.00', 0],
  ])('%s is %i cents where an amount may be negative, and no amount elsewhere', (cell, cents) => {
    expect(readDollars(cell, { signed: true })).toBe(cents);
    expect(readDollars(cell)).toBeUndefined();
  });

  it.each([
    '',
    '$',
    '-',
    '.50',
    '18.',
    '18.405',
    '1e3',
    '+5',
    '--5',
    '$-5',
    '(5.00)',
    '1,8.40',
    '12,34',
    '1234,567',
    '0,123',
    '1,2345',
    ',123',
    '1,234.5,0',
    '1 234.50',
    '1.234,50',
    '18.40 ',
    '$$5',
    '5$',
    '٣',
    '1000000000000',
    '1,000,000,000,000',
    'about 20',
    'Infinity',
    '0x10',
  ])('is not read out of %j', (cell) => {
    expect(readDollars(cell)).toBeUndefined();
    expect(readDollars(cell, { signed: true })).toBeUndefined();
  });

  it.each<[number | bigint, string]>([
    [0, '0.00'],
    [5, '0.05'],
    [70, '0.70'],
    [1_840, '18.40'],
    [-5, '-0.05'],
    [-123_450, '-1234.50'],
    [9_007_199_254_740_993n, '90071992547409.93'],
  ])('of %s cents is written %s', (amountCents, cell) => {
    expect(writeDollars(amountCents)).toBe(cell);
  });

  it('that is written is read as it was, to the cent', () => {
    const below = 99_999_999_999_999;
    fc.assert(
      fc.property(fc.integer({ min: -below, max: below }), (amountCents) => {
        const cell = writeDollars(amountCents);
        expect(readDollars(cell, { signed: true })).toBe(amountCents);
        expect(readDollars(cell)).toBe(amountCents < 0 ? undefined : amountCents);
      }),
    );
  });
});
