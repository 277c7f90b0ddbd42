import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { federalHolidays } from '../../src/consumer-law/federal-holidays.ts';
import { type CancelRight, lastDayToCancel } from '../../src/consumer-law/index.ts';

/** 16 CFR 429.1: midnight of the third business day; Saturdays count, Sundays and holidays do not. */
const federal: CancelRight = {
  kind: 'cancel_right',
  appliesFromCents: 2_500,
  source: '16 CFR 429.1',
  title: { en: 'Right to cancel', es: 'Derecho de cancelación' },
  text: { en: 'You may cancel.', es: 'Usted puede cancelar.' },
  days: 3,
  closedWeekdays: [7],
  federalHolidays: true,
  holidays: [],
};

describe('the federal holidays of a year', () => {
  it.each([
    // The days on which federal offices were closed, as the Office of Personnel Management
    // published them (from memory); where the holiday itself fell on a weekend, that day too.
    [2022, '01-01 01-17 02-21 05-30 06-19 06-20 07-04 09-05 10-10 11-11 11-24 12-25 12-26'],
    [
      2021,
      '01-01 01-18 02-15 05-31 06-18 06-19 07-04 07-05 09-06 10-11 11-11 11-25 12-24 12-25 12-31',
    ],
    [2026, '01-01 01-19 02-16 05-25 06-19 07-03 07-04 09-07 10-12 11-11 11-26 12-25'],
  ])('%i', (year, days) => {
    expect(federalHolidays(year)).toEqual(days.split(' ').map((day) => `${year}-${day}`));
  });
});

describe('the last day to cancel', () => {
  it.each([
    ['a Tuesday gives until Friday', '2026-07-14', '2026-07-17'],
    ['a Thursday gives until Monday: Saturday counts, Sunday does not', '2026-07-16', '2026-07-20'],
    ['a Saturday gives until Wednesday', '2026-07-18', '2026-07-22'],
    ['a Sunday gives until Wednesday', '2026-07-19', '2026-07-22'],
    ['the eve of a Saturday holiday, kept on Friday too', '2026-07-02', '2026-07-08'],
    ['the day before Thanksgiving', '2026-11-25', '2026-11-30'],
    ['over the turn of the year', '2026-12-30', '2027-01-04'],
    [
      'New Year’s Day of a year that began on Saturday is kept in the old one',
      '2021-12-30',
      '2022-01-05',
    ],
  ])('%s', (_, acceptedOn, last) => {
    expect(lastDayToCancel(acceptedOn, federal)).toBe(last);
  });

  it('skips a jurisdiction’s own holidays and closed weekdays', () => {
    const local = { ...federal, closedWeekdays: [6, 7], holidays: ['2026-07-15'] };
    expect(lastDayToCancel('2026-07-14', local)).toBe('2026-07-20');
  });

  it('is never earlier for a later yes, nor for more days', () => {
    const days = fc.date({
      min: new Date('2024-01-01'),
      max: new Date('2040-12-31'),
      noInvalidDate: true,
    });
    fc.assert(
      fc.property(days, days, fc.integer({ min: 1, max: 20 }), (one, other, count) => {
        const [first = '', second = ''] = [one, other]
          .map((d) => d.toISOString().slice(0, 10))
          .sort();
        const rule = { ...federal, days: count };
        expect(lastDayToCancel(first, rule) <= lastDayToCancel(second, rule)).toBe(true);
        expect(
          lastDayToCancel(first, rule) < lastDayToCancel(first, { ...rule, days: count + 1 }),
        ).toBe(true);
      }),
    );
  });
});
