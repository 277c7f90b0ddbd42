import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { agingBuckets, agingOf } from '../../src/billing/index.ts';

describe('an invoice is overdue by calendar days', () => {
  it.each([
    ['before it is due', '2026-01-30', '2026-01-01', 0, 'not_due'],
    ['on the day it is due', '2026-01-01', '2026-01-01', 0, 'not_due'],
    ['the day after', '2026-01-01', '2026-01-02', 1, 'days_1_30'],
    ['30 days', '2026-01-01', '2026-01-31', 30, 'days_1_30'],
    ['31 days', '2026-01-01', '2026-02-01', 31, 'days_31_60'],
    ['60 days', '2026-01-01', '2026-03-02', 60, 'days_31_60'],
    ['61 days', '2026-01-01', '2026-03-03', 61, 'days_61_90'],
    ['90 days', '2026-01-01', '2026-04-01', 90, 'days_61_90'],
    ['91 days', '2026-01-01', '2026-04-02', 91, 'over_90_days'],
    ['over the turn of a year', '2026-12-31', '2027-01-01', 1, 'days_1_30'],
    ['over a leap day', '2028-02-28', '2028-03-01', 2, 'days_1_30'],
    ['over a year without one', '2027-02-28', '2027-03-01', 1, 'days_1_30'],
    ['a year', '2026-01-01', '2027-01-01', 365, 'over_90_days'],
  ])('%s: due %s, on %s it is %i days: %s', (_, dueOn, asOf, daysOverdue, bucket) => {
    const { balances, owedCents, owedTotalCents } = agingOf([owed('a', dueOn, 39_304)], asOf);
    expect(balances).toMatchObject([{ invoiceId: 'a', daysOverdue, bucket }]);
    expect(owedCents).toMatchObject({ [bucket]: 39_304 });
    expect(owedTotalCents).toBe(39_304);
  });
});

describe('what is owed to us', () => {
  it('is not made less by what we owe others', () => {
    const open = [owed('a', '2026-01-01', 10_000), owed('b', '2026-01-01', -4_000)];
    expect(agingOf(open, '2026-01-15')).toMatchObject({
      owedCents: { days_1_30: 10_000 },
      owedTotalCents: 10_000,
      owedBackCents: 4_000,
    });
  });

  it('names no invoice on which nothing is owed', () => {
    expect(agingOf([owed('a', '2026-01-01', 0)], '2026-01-15').balances).toEqual([]);
  });

  it('stands in exactly one bucket each, and the buckets are all of it', () => {
    fc.assert(
      fc.property(fc.array(arbitraryOpen, { maxLength: 20 }), (open) => {
        const aging = agingOf(open, '2026-11-25');
        const sumOwed = (from: number, to: number) =>
          open
            .filter(
              ({ daysAgo, balanceCents }) => balanceCents > 0 && from <= daysAgo && daysAgo <= to,
            )
            .reduce((sum, { balanceCents }) => sum + balanceCents, 0);
        expect(aging.owedCents).toEqual({
          not_due: sumOwed(-400, 0),
          days_1_30: sumOwed(1, 30),
          days_31_60: sumOwed(31, 60),
          days_61_90: sumOwed(61, 90),
          over_90_days: sumOwed(91, 400),
        });
        const buckets = agingBuckets.map((bucket) => aging.owedCents[bucket]);
        expect(buckets.reduce((sum, each) => sum + each, 0)).toBe(aging.owedTotalCents);
        const balance = open.reduce((sum, { balanceCents }) => sum + balanceCents, 0);
        expect(aging.owedTotalCents - aging.owedBackCents).toBe(balance);
      }),
    );
  });
});

function owed(invoiceId: string, dueOn: string, balanceCents: number) {
  return { invoiceId, dueOn, balanceCents };
}

const arbitraryOpen = fc
  .record({
    invoiceId: fc.uuid(),
    daysAgo: fc.oneof(
      fc.constantFrom(-1, 0, 1, 30, 31, 60, 61, 90, 91),
      fc.integer({ min: -400, max: 400 }),
    ),
    balanceCents: fc.integer({ min: -50_000, max: 200_000 }),
  })
  .map((invoice) => ({ ...invoice, dueOn: daysBefore(invoice.daysAgo) }));

/** A day so many days before November 25, 2026, counted by the calendar itself. */
function daysBefore(days: number): string {
  return new Date(Date.UTC(2026, 10, 25 - days)).toISOString().slice(0, 10);
}
