import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  addCents,
  cents,
  NotCentsError,
  ratioOf,
  roundHalfUpToCents,
} from '../../src/pricing/index.ts';

describe('rounding to the cent', () => {
  // In ten-thousandths of a cent, so that the half and its neighbors can be written as integers.
  it.each([
    { exact: 74_675, rounded: 7, because: '7.4675 is not rounded to 7.5 first' },
    { exact: 75_000, rounded: 8, because: 'an exact half goes up' },
    { exact: 74_999, rounded: 7, because: 'just below the half' },
    { exact: 145_000, rounded: 15, because: 'half up, not half to even' },
    { exact: 4_900, rounded: 0, because: 'less than half a cent is nothing' },
    { exact: 0, rounded: 0, because: 'nothing stays nothing' },
    { exact: -4_900, rounded: 0, because: 'and never a negative zero' },
    { exact: -75_000, rounded: -7, because: 'up is toward plus infinity' },
    { exact: -75_100, rounded: -8, because: 'below the half' },
    { exact: -145_000, rounded: -14, because: 'up is toward plus infinity' },
  ])('$exact / 10000 -> $rounded: $because', ({ exact, rounded }) => {
    const amount = roundHalfUpToCents({ numerator: BigInt(exact), denominator: 10_000n });
    expect(Object.is(amount, rounded)).toBe(true);
  });

  it('never moves an amount by more than half a cent, and by half only upward', () => {
    fc.assert(
      fc.property(fc.bigInt(-(10n ** 18n), 10n ** 18n), fc.bigInt(1000n, 10n ** 9n), (n, d) => {
        const doubleMove =
          2n * (BigInt(roundHalfUpToCents({ numerator: n, denominator: d })) * d - n);
        expect(doubleMove <= d && doubleMove > -d).toBe(true);
      }),
    );
  });

  it('refuses what a number cannot hold to the cent', () => {
    expect(() => roundHalfUpToCents({ numerator: 2n ** 53n, denominator: 1n })).toThrow(
      NotCentsError,
    );
    // The nearest number that can be held is one less, and would name another amount.
    const odd = { numerator: 2n ** 53n + 1n, denominator: 1n };
    expect(() => roundHalfUpToCents(odd)).toThrow('9007199254740993 is not');
  });
});

describe('cents', () => {
  it.each([0.5, Number.NaN, Number.POSITIVE_INFINITY, 2 ** 53])('refuses %s', (amount) => {
    expect(() => cents(amount)).toThrow(NotCentsError);
  });

  it('know one zero only: the -0 of a JSON text is stored and compared as 0', () => {
    expect(Object.is(cents(JSON.parse('-0')), 0)).toBe(true);
  });

  it('refuses a sum that was inexact on the way, even if its end looks fine', () => {
    const large = cents(Number.MAX_SAFE_INTEGER);
    expect(() => addCents([large, cents(1), cents(-1)])).toThrow(NotCentsError);
  });
});

describe('decimal text', () => {
  it.each([
    ['0.0825', 825n, 10_000n],
    ['1.5', 15n, 10n],
    ['3', 3n, 1n],
    ['0.20', 20n, 100n],
  ])('%s is read exactly', (text, numerator, denominator) => {
    expect(ratioOf(text)).toEqual({ numerator, denominator });
  });
});
