import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type EarlierRepair, type JobFacts, judgeJob } from '../../src/auditing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import { acceptOneByOne } from './accept-one-by-one.ts';
import { arbitraryBentJob } from './bent-jobs.ts';
import {
  breakerReset,
  capacitor,
  charging,
  documentOf,
  jobOf,
  keysOf,
  withDocument,
} from './job-of.ts';

/*
 * What the owner is shown as too much on a job is what comes of accepting its flags one by one. A yes
 * credits the fee against labor and access, and repairing never totals less than declining unless
 * the fee itself is not owed. PRODUCT.md, "Price" and "Audit".
 */

/** A breaker put back on, billed as 45 minutes of repair: 89.00 + 113.25 - 44.50. */
function resetBilled(changes: Parameters<typeof jobOf>[0] = {}): JobFacts {
  const work = [breakerReset({ remedyClass: 'repair', minutes: 45, accessMinutes: 0 })];
  return jobOf({ work, ...changes });
}

/** The same at a callback, which has no fee. */
function atCallback(job: JobFacts): JobFacts {
  const visits = (job.visits ?? []).map((visit) => ({ ...visit, purpose: 'callback' }));
  return { ...job, visits };
}

function withoutCredit(job: JobFacts): JobFacts {
  const { lines } = documentOf(job);
  return withDocument(job, { lines: lines.filter(({ kind }) => kind !== 'credit') });
}

/** Each order in which two or three flags may be accepted. */
const orders = [
  [0, 0, 0],
  [1, 0, 0],
  [2, 0, 0],
  [0, 1, 0],
  [1, 1, 0],
  [2, 1, 0],
];

describe('flags accepted one by one', () => {
  it('come to what the judgement shows, in any order, and leave nothing owed', () => {
    fc.assert(
      fc.property(
        arbitraryBentJob,
        fc.array(fc.nat({ max: 20 }), { minLength: 1, maxLength: 8 }),
        (bent, picks) => {
          const { overCents } = judgeJob(bent);
          const { givenCents, sumsCents, job } = acceptOneByOne(bent, picks);
          expect(givenCents).toBe(overCents);
          expect(new Set(sumsCents)).toEqual(new Set([overCents]));
          expect(judgeJob(job).flags.filter(({ severity }) => severity === 'owed')).toEqual([]);
        },
      ),
      { numRuns: 60 },
    );
  });

  it.each([
    // Billed 157.75 with 44.50 of 89.00 credited: nothing of it is owed.
    ['a reset at a callback, which has neither labor nor a fee', atCallback(resetBilled()), 15_775],
    ['a reset whose yes credited nothing', withoutCredit(resetBilled()), 11_325],
    [
      // 99.00 for 89.00, and the half of it not credited.
      'a fee that is too dear and was not credited',
      withoutCredit(charging(jobOf(), { visit_fee: 9_900 })),
      5_450,
    ],
    [
      'all of that at a callback',
      atCallback(withoutCredit(charging(resetBilled(), { visit_fee: 9_900 }))),
      21_225,
    ],
    [
      // The whole fee is credited; without labor it stands at 89.00, and at a callback it does not.
      'a reset whose whole fee was credited',
      resetBilled({ inputs: wholeCredit() }),
      2_425,
    ],
    [
      // 10.00 by hand on the material of a reset, which is 55.20; 8.25 % of it are 0.83.
      'a reset whose material was raised',
      materialRaised(1_000),
      1_083,
    ],
    [
      // 89.00 for a trip that an agreement makes free, and 89.00 once more.
      'a fee that was charged twice and should have been free',
      freeFeeTwice(),
      17_800,
    ],
    [
      'a reset whose whole fee was credited, at a callback',
      atCallback(resetBilled({ inputs: wholeCredit() })),
      11_325,
    ],
  ])('%s', (_, bent, overCents) => {
    expect(judgeJob(bent).overCents).toBe(overCents);
    for (const picks of orders) {
      const { givenCents, sumsCents, job } = acceptOneByOne(bent, picks);
      expect(givenCents).toBe(overCents);
      // What was given back and what is still shown come to the same after each.
      expect(new Set(sumsCents)).toEqual(new Set([overCents]));
      expect(judgeJob(job).flags).toEqual([]);
    }
  });
});

function materialRaised(amountCents: number): JobFacts {
  const reset = breakerReset({ parts: capacitor().parts });
  const job = jobOf({ work: [reset] });
  const { lines } = documentOf(job);
  const material = lines.find(({ kind }) => kind === 'part');
  if (material === undefined) throw new Error('the reset has its material');
  const { key } = material;
  const byHand = { key: `adjustment:${key}:1`, kind: 'adjustment', aimedAt: key };
  return withDocument(job, {
    lines: [...lines, { ...material, ...byHand, amountCents: cents(amountCents) }],
    taxLeftCents: cents(538),
  });
}

function freeFeeTwice(): JobFacts {
  const agreement = { code: 'yearly', name: 'Yearly care', discounts: { visit_fee: '1' } };
  const free = jobOf({ work: [], inputs: { agreement } });
  const { lines } = documentOf(free);
  const yes = withDocument(free, { lines: lines.filter(({ kind }) => kind !== 'discount') });
  const fee = documentOf(jobOf({ work: [] }));
  return { ...yes, documents: [documentOf(yes), { ...fee, position: 2, kind: 'visit_fee' }] };
}

function wholeCredit() {
  const { price } = documentOf(jobOf());
  if (price === undefined) throw new Error('the job has its price');
  return { policy: { ...price.inputs.policy, visitFeeCreditShare: '1' } };
}

describe('what was given back of the fee before', () => {
  it('all of it: the fee was not owed, so nothing stands in place of it', () => {
    // A memo gave back the 44.50 that were left of the fee; then the labor goes back whole.
    const bent = withDocument(resetBilled(), {
      credited: [{ key: 'visit_fee', amountCents: cents(4_450) }],
    });
    expect(judgeJob(bent).overCents).toBe(11_325);
  });

  it('what a yes credits of it: without labor the fee would have stood', () => {
    // 89.00 + 113.25 - 44.50 by a memo; a no comes to 89.00.
    const bent = withDocument(withoutCredit(resetBilled()), {
      credited: [{ key: 'visit_fee', amountCents: cents(4_450) }],
    });
    expect(judgeJob(bent).overCents).toBe(6_875);
  });

  it('a fee too dear by all that is left of it was owed all the same', () => {
    // 99.00 less the whole 89.00 credited leaves 10.00, which is what it is too dear. Labor of 113.25
    // goes back down to the 89.00 of a no.
    const bent = charging(resetBilled({ inputs: wholeCredit() }), { visit_fee: 9_900 });
    const { flags, overCents } = judgeJob(bent);
    expect(flags.map(({ ruleCode, overCents: over }) => [ruleCode, over])).toEqual([
      ['reset_billed_as_repair', 2_425],
      ['above_ceiling', 1_000],
      ['differs_from_book', 1_000],
    ]);
    expect(overCents).toBe(3_425);
  });
});

describe('the tax', () => {
  it('after a memo put it right, later credits go by the rule that put it right', () => {
    // 8.25 % of 168.45 on part and labor where only parts are taxed: 13.90, of which 9.35 are too much.
    const job = jobOf({ tax: { taxableClasses: ['part', 'labor'] } });
    const taxInForce = documentOf(jobOf()).taxInForce;
    if (!taxInForce) throw new Error('the job has its tax rule');
    const repair: EarlierRepair = {
      ...{ ticketNumber: 900, systemId: 'system-1', faultCode: 'run_capacitor_herm' },
      ...{ doneOn: '2026-04-20', laborWarrantyUntil: '2026-05-20', partCategories: [] },
    };
    const bent = { ...withDocument(job, { taxInForce }), earlierRepairs: [repair] };
    for (const picks of orders) {
      expect(acceptOneByOne(bent, picks).givenCents).toBe(judgeJob(bent).overCents);
    }
    // All of it: 89.00 - 44.50 + 55.20 + 113.25 + 13.90.
    expect(judgeJob(bent).overCents).toBe(22_685);
  });

  it('on labor that stands in place of a fee is that of the fee', () => {
    // 8.25 % of the labor's 113.25 is 9.34; the 44.50 of it that stay are the fee's, which is not taxed.
    const bent = resetBilled({ tax: { taxableClasses: ['labor'] } });
    const { corrected, overCents } = judgeJob(bent);
    expect(corrected).toMatchObject([
      { credits: [{ key: keysOf(breakerReset()).labor, amountCents: 6_875 }], taxCents: 934 },
    ]);
    expect(overCents).toBe(6_875 + 934);
    const { job } = acceptOneByOne(bent, [0]);
    expect(judgeJob(job).flags).toEqual([]);
  });

  it('never goes below what is due on the rest', () => {
    // 3.00 where 4.55 is due on the part of 55.20. At 35.20 2.90 are due.
    const job = withDocument(charging(jobOf(), { [keysOf(capacitor()).part]: 7_520 }), {
      taxLeftCents: cents(500),
    });
    // The part goes back to 55.20, on which 4.55 are due: 0.45 of the 5.00 go with it, not 1.65.
    expect(judgeJob(job).corrected).toMatchObject([{ taxCents: 45, totalCents: 2_045 }]);
  });
});
