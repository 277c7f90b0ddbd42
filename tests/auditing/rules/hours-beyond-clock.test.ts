import { fairFor } from '../bill-of.ts';
import { breakerReset, jobOf } from '../job-of.ts';
import { billOf } from './bill-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';

/** Labor at $150.00 an hour. */
const bill = (hours: string, clockMinutes: number, laborCents: number) =>
  billOf({ visit_fee: 8_900, labor: laborCents }, { hours, clockMinutes });

/** `1.75 hours` and `3.5 hours` are what one person and two may come to. */
const says = (billed: string, clock: string, one: string, two: string) =>
  `${billed} billed, ${clock} between arriving and leaving. By the quarter hour begun that is ${one} for one person and ${two} for two`;

/*
 * Charged by the quarter hour begun, and two people come to heavy work: common practice, no source.
 * A bill does not say how many came, so up to twice the clock nobody owes anything.
 */
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
    name: 'two people for ninety minutes may bill three hours: a look, and nothing is owed',
    job: bill('3', 90, 45_000),
    is: {
      says: [
        `${says('3 hours', '90 minutes', '1.5 hours', '3 hours')}. The bill does not say how many people came: please look at whether two did.`,
      ],
    },
  },
  {
    name: 'a quarter hour above the clock is a look',
    job: bill('1.75', 90, 26_250),
    is: {
      says: [
        `${says('1.75 hours', '90 minutes', '1.5 hours', '3 hours')}. The bill does not say how many people came: please look at whether two did.`,
      ],
    },
  },
  {
    // 91 minutes are seven quarters begun, for two people fourteen: 3.5 hours at 150.00.
    name: 'takes off what is beyond two people by the quarter hour that was begun',
    job: bill('4.5', 91, 67_500),
    is: {
      says: [
        `${says('4.5 hours', '91 minutes', '1.75 hours', '3.5 hours')}: labor of $675.00 would have come to at most $525.00.`,
      ],
      to: { labor: 52_500 },
    },
  },
  {
    name: 'takes off a quarter hour where two people by the clock stand exactly on one',
    job: bill('3.25', 90, 48_750),
    is: {
      says: [
        `${says('3.25 hours', '90 minutes', '1.5 hours', '3 hours')}: labor of $487.50 would have come to at most $450.00.`,
      ],
      to: { labor: 45_000 },
    },
  },
  {
    // 100.01 x 0.5 / 0.6 = 83.3417 -> 83.34.
    name: 'rounds to the nearest cent',
    job: bill('0.6', 15, 10_001),
    is: {
      says: [
        `${says('0.6 hours', '15 minutes', '0.25 hours', '0.5 hours')}: labor of $100.01 would have come to at most $83.34.`,
      ],
      to: { labor: 8_334 },
    },
  },
  {
    // 0.01 x 0.5 / 1 is half a cent, which goes up.
    name: 'an exact half of a cent goes up, and then nothing is owed',
    job: bill('1', 15, 1),
    is: 'clear',
  },
  {
    name: 'nobody there is nothing to charge',
    job: bill('1', 0, 15_000),
    is: {
      says: [
        '1 hour billed, 0 minutes between arriving and leaving: labor of $150.00 would have come to at most $0.00.',
      ],
      to: { labor: 0 },
    },
  },
  {
    name: 'says so without a figure where labor is not told apart',
    job: billOf({ lump: 70_000 }, { hours: '4', clockMinutes: 60 }),
    is: {
      says: [
        `${says('4 hours', '60 minutes', '1 hour', '2 hours')}. The bill does not tell its labor apart, so nobody can say what the rest came to.`,
      ],
    },
  },
  {
    // That a reset carries no labor is the stricter of the two, and said once.
    name: 'says nothing of labor that a reset does not carry at all',
    job: billOf(
      { visit_fee: 8_900, labor: 30_000 },
      { hours: '2', clockMinutes: 25, fair: fairFor([breakerReset()]) },
    ),
    is: { says: [`${says('2 hours', '25 minutes', '0.5 hours', '1 hour')}.`] },
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
