import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { paymentMethods, type Taking, takingsOf } from '../../src/billing/index.ts';

describe('a day’s takings', () => {
  it('are what came in by each method, less what was voided and given back', () => {
    const taken = takingsOf({
      payments: [
        { method: 'cash', amountCents: 10_000 },
        { method: 'cash', amountCents: 5_000 },
        { method: 'check', amountCents: 39_304 },
      ],
      voids: [{ method: 'check', amountCents: 39_304 }],
      refunds: [
        { method: 'cash', amountCents: 2_000 },
        { method: 'card', amountCents: 7_064 },
      ],
    });
    const none = { paidCents: 0, voidedCents: 0, refundedCents: 0, netCents: 0 };
    expect(taken).toEqual({
      byMethod: {
        cash: { paidCents: 15_000, voidedCents: 0, refundedCents: 2_000, netCents: 13_000 },
        check: { paidCents: 39_304, voidedCents: 39_304, refundedCents: 0, netCents: 0 },
        card: { ...none, refundedCents: 7_064, netCents: -7_064 },
        bank_transfer: none,
      },
      totalCents: 13_000 - 7_064,
    });
  });

  it('come to what the methods come to, and to every cent that moved', () => {
    const day = fc.record({ payments: takings(), voids: takings(), refunds: takings() });
    fc.assert(
      fc.property(day, ({ payments, voids, refunds }) => {
        const taken = takingsOf({ payments, voids, refunds });
        const byMethod = Object.values(taken.byMethod).map(({ netCents }) => netCents);
        expect(sumOf(byMethod)).toBe(taken.totalCents);
        expect(taken.totalCents).toBe(centsOf(payments) - centsOf(voids) - centsOf(refunds));
      }),
    );
  });
});

function takings(): fc.Arbitrary<Taking[]> {
  const taking = fc.record({
    method: fc.constantFrom(...paymentMethods),
    amountCents: fc.integer({ min: 1, max: 500_000 }),
  });
  return fc.array(taking, { maxLength: 10 });
}

function centsOf(moved: readonly Taking[]): number {
  return sumOf(moved.map(({ amountCents }) => amountCents));
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}
