import { jobOf } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

/** Labor at $150.00 an hour. */
const bill = (hours: string, clockMinutes: number, laborCents: number) =>
  billOf({ visit_fee: 8_900, labor: laborCents }, { hours, clockMinutes });

// Charged by the quarter hour begun: common practice, no source.
holdRuleTo('hours_beyond_clock', [
  {
    name: 'holds for our own tickets, which sell tasks by their minutes',
    job: jobOf(),
    is: 'clear',
  },
  { name: 'holds where the clock says as much', job: bill('2', 120, 30_000), is: 'clear' },
  { name: 'holds where the clock says more', job: bill('1', 120, 15_000), is: 'clear' },
  { name: 'holds for the quarter hour that was begun', job: bill('1.75', 91, 26_250), is: 'clear' },
  {
    // 91 minutes are seven quarters begun: 262.50.
    name: 'takes off what is beyond the quarter hour that was begun',
    job: bill('4.5', 91, 67_500),
    is: {
      says: [
        '4.5 hours billed, 91 minutes between arriving and leaving. For one person, by the quarter hour begun, that is 1.75 hours: labor of $675.00 would have come to $262.50.',
      ],
      to: { labor: 26_250 },
    },
  },
  {
    name: 'takes off a quarter hour where the clock stands exactly on one',
    job: bill('1.75', 90, 26_250),
    is: {
      says: [
        '1.75 hours billed, 90 minutes between arriving and leaving. For one person, by the quarter hour begun, that is 1.5 hours: labor of $262.50 would have come to $225.00.',
      ],
      to: { labor: 22_500 },
    },
  },
  {
    // 100.01 x 0.25 / 0.3 = 83.3417 -> 83.34.
    name: 'rounds to the nearest cent',
    job: bill('0.3', 15, 10_001),
    is: {
      says: [
        '0.3 hours billed, 15 minutes between arriving and leaving. For one person, by the quarter hour begun, that is 0.25 hours: labor of $100.01 would have come to $83.34.',
      ],
      to: { labor: 8_334 },
    },
  },
  {
    // 0.01 x 0.25 / 0.5 is half a cent, which goes up.
    name: 'an exact half of a cent goes up, and then nothing is owed',
    job: bill('0.5', 15, 1),
    is: 'clear',
  },
  {
    name: 'nobody there is nothing to charge',
    job: bill('1', 0, 15_000),
    is: {
      says: [
        '1 hour billed, 0 minutes between arriving and leaving. For one person, by the quarter hour begun, that is 0 hours: labor of $150.00 would have come to $0.00.',
      ],
      to: { labor: 0 },
    },
  },
  {
    name: 'says so without a figure where labor is not told apart',
    job: billOf({ lump: 70_000 }, { hours: '4', clockMinutes: 60 }),
    is: {
      says: [
        '4 hours billed, 60 minutes between arriving and leaving. For one person, by the quarter hour begun, that is 1 hour. The bill does not tell its labor apart, so nobody can say what the rest came to.',
      ],
    },
  },
  {
    name: 'cannot tell without the hours',
    job: billOf({ labor: 30_000 }, { clockMinutes: 60 }),
    is: { missing: ['hours'] },
  },
  {
    name: 'cannot tell without the clock',
    job: billOf({ labor: 30_000 }, { hours: '2' }),
    is: { missing: ['clock'] },
  },
  {
    name: 'cannot tell without both',
    job: billOf({ labor: 30_000 }),
    is: { missing: ['hours', 'clock'] },
  },
  {
    name: 'no hours billed are not beyond any clock',
    job: billOf({ labor: 30_000 }, { hours: '0', clockMinutes: 60 }),
    is: 'clear',
  },
]);
