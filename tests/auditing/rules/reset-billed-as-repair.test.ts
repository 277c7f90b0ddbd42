import { describe, expect, it } from 'vitest';
import type { JobFacts } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import type { HandWork } from '../../pricing/oracle/hand-inputs.ts';
import { billOf, fairFor } from '../bill-of.ts';
import {
  breakerReset,
  capacitor,
  documentOf,
  drainCleared,
  floatReset,
  jobOf,
  keysOf,
  withDocument,
  without,
} from '../job-of.ts';
import { holdsCases, judgedBy } from './rule-cases.ts';

/*
 * A reset is the visit fee and its materials. Common practice, no source; PRODUCT.md, "Reset".
 * Amounts at 151.00 an hour: 45 min 113.25, 15 min 37.75, 10 min 25.17. A yes credits half the fee
 * of 89.00, at most labor and access; without them there is nothing to credit it against, and what
 * was credited for them is set off.
 */
const breaker = breakerReset();
const float = floatReset();
const drain = drainCleared();

function fuse(changes: Partial<HandWork> = {}): HandWork {
  return breakerReset({
    findingId: 'finding-fuse',
    faultCode: 'open_control_fuse',
    taskCode: 'replace_control_fuse',
    taskName: 'Replace the control fuse',
    accessMinutes: 0,
    parts: [
      {
        code: 'fuse_3a',
        name: 'Blade fuse 3 A',
        unitCostCents: 200,
        quantity: 1,
        underManufacturerWarranty: false,
      },
    ],
    ...changes,
  });
}

/** The fuse sells for 6.00; four dollars more stand on the bill, by hand. */
function fuseRaised(): JobFacts {
  const job = jobOf({ work: [fuse()] });
  const { lines } = documentOf(job);
  const part = keysOf(fuse()).part;
  const adjustment = {
    key: `adjustment:${part}:1`,
    kind: 'adjustment',
    priceClass: 'part',
    description: 'Adjustment: Blade fuse 3 A',
    aimedAt: part,
    findingIds: [],
    amountCents: cents(400),
  };
  // 8.25 % of 10.00.
  return withDocument(job, { lines: [...lines, adjustment], taxLeftCents: cents(83) });
}

describe('a reset is charged at its materials only', () => {
  holdsCases('reset_billed_as_repair', [
    { name: 'a repair that was none of a reset', job: () => jobOf(), expected: 'clear' },
    {
      name: 'a flipped breaker for the fee alone',
      job: () => jobOf({ work: [breaker] }),
      expected: 'clear',
    },
    {
      name: 'a fuse with its material at the price of the book',
      job: () => jobOf({ work: [fuse()] }),
      expected: 'clear',
    },
    {
      name: 'a cleared drain with the float switch behind it, which share the way in',
      job: () => jobOf({ work: [drain, float] }),
      expected: 'clear',
    },
    {
      // Billed 89.00 + 113.25 + 37.75 - 44.50 = 195.50; it comes to the fee of 89.00.
      name: 'a flipped breaker billed as a repair comes to the fee',
      job: () => jobOf({ work: [breakerReset({ remedyClass: 'repair', minutes: 45 })] }),
      expected: {
        back: { [keysOf(breaker).labor]: 6_875, [keysOf(breaker).access]: 3_775 },
        overCents: 10_650,
      },
    },
    {
      // Billed 89.00 + 25.17 + 37.75 - 44.50 = 107.42; it comes to the fee of 89.00.
      name: 'a float switch let down again billed with labor comes to the fee',
      job: () => jobOf({ work: [floatReset({ remedyClass: 'repair' })] }),
      expected: { back: { [keysOf(float).labor]: 1_842 }, overCents: 1_842 },
    },
    {
      // 10 min as a second task: 25.17 less 5.03. The drain's labor keeps the credit of the fee.
      name: 'beside a cleared drain the float switch is free, and the way in stays charged',
      job: () => jobOf({ work: [drain, floatReset({ remedyClass: 'repair' })] }),
      expected: { back: { [keysOf(float).labor]: 2_014 }, overCents: 2_014 },
    },
    {
      // 25.17 of labor, and 25.17 of the fee credited for it: in all the fee and the fuse.
      name: 'one whose labor the credit of the fee made up for is only to be looked at',
      job: () => jobOf({ work: [fuse({ remedyClass: 'repair' })] }),
      expected: 'look',
    },
    {
      // A cent given back of the labor is goodwill; that the fuse was billed as a repair still stands.
      name: 'one whose labor the credit made up for stays to be looked at after a cent of goodwill',
      job: () =>
        withDocument(jobOf({ work: [fuse({ remedyClass: 'repair' })] }), {
          credited: [{ key: keysOf(fuse()).labor, amountCents: cents(1) }],
        }),
      expected: 'look',
    },
    {
      name: 'nobody may raise what its material comes to',
      job: fuseRaised,
      expected: { back: { [keysOf(fuse()).part]: 400 }, taxCents: 33, overCents: 433 },
    },
    {
      // The way in is 15 minutes for both: the capacitor needs it as well.
      name: 'a way in that a repair needs too stays charged',
      job: () =>
        jobOf({
          work: [
            capacitor({ accessMinutes: 15 }),
            breakerReset({
              remedyClass: 'repair',
              accessGroup: 'condenser_electrical',
              accessMinutes: 15,
            }),
          ],
        }),
      expected: { back: { [keysOf(breaker).labor]: 2_014 }, overCents: 2_014 },
    },
    {
      name: 'with findings unknown it cannot be said of charged work',
      job: () => without(jobOf(), 'findings'),
      expected: { missing: ['findings'] },
    },
    {
      name: 'where nothing but the fee was charged no finding is needed to say so',
      job: () => without(jobOf({ work: [breaker] }), 'findings'),
      expected: 'clear',
    },
    {
      name: 'a bill for a flipped breaker that charges labor',
      job: () => billOf({ visit_fee: 8_900, labor: 15_000 }, { fair: fairFor([breaker]) }),
      expected: { back: { labor: 15_000 }, overCents: 15_000 },
    },
    {
      name: 'a bill of one sum for a flipped breaker comes to the fee',
      job: () => billOf({ lump: 25_000 }, { fair: fairFor([breaker]) }),
      expected: { back: { lump: 16_100 }, overCents: 16_100 },
    },
    {
      // The labor goes back by itself, so the lump of 100.00 comes to the fee of 89.00.
      name: 'a bill for a flipped breaker that charges labor beside a lump comes to the fee',
      job: () => billOf({ labor: 15_000, lump: 10_000 }, { fair: fairFor([breaker]) }),
      expected: { back: { labor: 15_000, lump: 1_100 }, overCents: 16_100 },
    },
    {
      name: 'a bill for a flipped breaker that tells fee, labor and a lump comes to the fee',
      job: () =>
        billOf({ visit_fee: 8_900, labor: 15_000, lump: 4_000 }, { fair: fairFor([breaker]) }),
      expected: { back: { labor: 15_000, lump: 4_000 }, overCents: 19_000 },
    },
    {
      // The fuse of 6.00 beside the fee; the tax is told apart and stands in neither.
      name: 'a bill of one sum for a fuse that tells its tax comes to the fee and the fuse',
      job: () => billOf({ lump: 25_000 }, { fair: fairFor([fuse()]), taxCents: 400 }),
      expected: { back: { lump: 15_500 }, overCents: 15_500 },
    },
    {
      // 89.00 + 6.00 + 0.50 of tax.
      name: 'and of one sum that does not tell it to these with our tax in it',
      job: () => billOf({ lump: 25_000 }, { fair: fairFor([fuse()]) }),
      expected: { back: { lump: 15_450 }, overCents: 15_450 },
    },
    {
      name: 'a bill that tells that its tax was nothing comes to the fee and the fuse',
      job: () => billOf({ lump: 25_000, tax: 0 }, { fair: fairFor([fuse()]) }),
      expected: { back: { lump: 15_500 }, overCents: 15_500 },
    },
    {
      name: 'a bill of one sum at the fee',
      job: () => billOf({ lump: 8_900 }, { fair: fairFor([breaker]) }),
      expected: 'clear',
    },
    {
      name: 'a bill for a repair',
      job: () => billOf({ lump: 25_000 }, { fair: fairFor([capacitor()]) }),
      expected: 'clear',
    },
    {
      name: 'a bill of which nothing but its sum is known',
      job: () => without(billOf({ lump: 25_000 }), 'bill'),
      expected: { missing: ['what_was_done'] },
    },
    {
      name: 'a bill of which nobody knows what was done',
      job: () => billOf({ lump: 25_000 }),
      expected: { missing: ['what_was_done'] },
    },
  ]);

  it('asks for a look and accuses nobody', () => {
    const { flags } = judgedBy(
      'reset_billed_as_repair',
      jobOf({ work: [breakerReset({ remedyClass: 'repair', minutes: 45 })] }),
    );
    expect(flags.flatMap(({ sentences }) => sentences)).toEqual([
      'Reset the breaker is a reset, which carries no labor: quote 1001 charges $113.25 for it.',
      'Access: electrical panel serves a reset alone, which carries no access: quote 1001 charges $37.75 for it.',
    ]);
  });
});
