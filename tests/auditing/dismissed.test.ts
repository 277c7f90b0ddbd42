import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  type AskedBack,
  answersFor,
  correctedByFlag,
  currentAuditRuleset,
  type EarlierRepair,
  type JobFacts,
  type JobJudgement,
  judgeJob,
} from '../../src/auditing/index.ts';
import { chargedLines } from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import type { HandWork } from '../pricing/oracle/hand-inputs.ts';
import { acceptOneByOne } from './accept-one-by-one.ts';
import { arbitraryBentJob, arbitraryBentJobWithoutMemo, arbitraryGoodwill } from './bent-jobs.ts';
import {
  breakerReset,
  capacitor,
  charging,
  documentOf,
  jobOf,
  keysOf,
  withDocument,
} from './job-of.ts';
import { putRight } from './put-right.ts';

/*
 * What the owner dismissed stays as it was billed, and decides nothing of what other flags come to.
 * PRODUCT.md, "Audit".
 */

/** What the owner dismisses of a job as it is judged now. */
function flagged(job: JobFacts, ...codes: readonly string[]): AskedBack[] {
  return judgeJob(job).flags.filter(({ ruleCode }) => codes.includes(ruleCode));
}

function amounts({ flags, overCents, openCents }: JobJudgement) {
  return {
    flags: flags.map((flag) => [flag.ruleCode, flag.overCents]),
    overCents,
    openCents,
  };
}

const recalled: EarlierRepair = {
  ...{ ticketNumber: 900, systemId: 'system-1', faultCode: 'tripped_breaker' },
  ...{ doneOn: '2026-04-20', laborWarrantyUntil: '2026-05-20', partCategories: [] },
};

/** A breaker put back on, billed as 45 minutes of repair, with the whole fee of 89.00 credited. */
function resetBilled(changes: Partial<JobFacts> = {}, others: readonly HandWork[] = []): JobFacts {
  const { price } = documentOf(jobOf());
  if (price === undefined) throw new Error('the job has its price');
  const policy = { ...price.inputs.policy, visitFeeCreditShare: '1' };
  const reset = breakerReset({ remedyClass: 'repair', minutes: 45, accessMinutes: 0 });
  const work = [reset, ...others];
  return { ...jobOf({ work, inputs: { policy } }), ...changes };
}

describe('a recall that was dismissed', () => {
  const job = resetBilled({ earlierRepairs: [recalled] });
  const dismissed = flagged(job, 'recall_charged');

  it('leaves the fee to the reset: what goes back is labor above it', () => {
    // 45 min at 151.00 an hour are 113.25, of which 89.00 stand in place of the fee.
    expect(amounts(judgeJob(job))).toEqual({
      flags: [
        ['reset_billed_as_repair', 11_325],
        ['recall_charged', 11_325],
      ],
      overCents: 11_325,
      openCents: 11_325,
    });
    expect(amounts(judgeJob(job, currentAuditRuleset, dismissed))).toEqual({
      flags: [
        ['reset_billed_as_repair', 2_425],
        // As it was when it was dismissed.
        ['recall_charged', 11_325],
      ],
      overCents: 11_325,
      openCents: 2_425,
    });
  });

  it('is what accepting the reset goes by', () => {
    const back = correctedByFlag(job, 'reset_billed_as_repair', currentAuditRuleset, dismissed);
    expect(back.map(({ totalCents }) => totalCents)).toEqual([2_425]);
    // Nothing of it is given back by being accepted after all.
    expect(correctedByFlag(job, 'recall_charged', currentAuditRuleset, dismissed)).toEqual([]);
    const after = judgeJob(putRight(job, back), currentAuditRuleset, dismissed);
    expect(after.openCents).toBe(0);
  });

  it('decides nothing where nothing of its charges is left, either', () => {
    // The capacitor came back and is dismissed; a memo gives it back all the same. Of the recall only
    // the fee is left to speak of, which the reset's labor stands in place of.
    const fault = { faultCode: 'run_capacitor_herm' };
    const both = resetBilled({ earlierRepairs: [{ ...recalled, ...fault }] }, [capacitor()]);
    const { lines } = documentOf(both);
    const credited = chargedLines(lines)
      .filter(
        ({ line, leftCents }) => line.findingIds.includes('finding-capacitor') && leftCents > 0,
      )
      .map(({ line: { key }, leftCents }) => ({ key, amountCents: leftCents }));
    const after = withDocument(both, { credited, taxLeftCents: cents(0) });
    const { openCents } = judgeJob(after, currentAuditRuleset, flagged(both, 'recall_charged'));
    expect(openCents).toBe(judgeJob({ ...after, earlierRepairs: [] }).openCents);
    expect(openCents).toBeLessThan(judgeJob(after).openCents);
  });
});

describe('what a dismissed flag answers for', () => {
  const [recall] = flagged(resetBilled({ earlierRepairs: [recalled] }), 'recall_charged');
  if (recall === undefined) throw new Error('the job has its flag');

  it('itself, and what is left of it', () => {
    const [first] = recall.corrections;
    if (first === undefined) throw new Error('the flag has its correction');
    const both = { ...recall, corrections: [first, { ...first, key: 'visit_fee' }] };
    expect(answersFor(both, recall)).toBe(true);
    expect(answersFor(recall, both)).toBe(false);
    expect(answersFor(recall, { ...recall, corrections: [{ ...first, toCents: cents(1) }] })).toBe(
      false,
    );
  });

  it('not the same charge for another earlier repair', () => {
    const other = { ...recalled, ticketNumber: 901 };
    const [found] = flagged(resetBilled({ earlierRepairs: [other] }), 'recall_charged');
    expect(found?.corrections).toMatchObject([{ because: ['ticket 901'] }]);
    expect(found !== undefined && answersFor(recall, found)).toBe(false);
  });

  it('a tax that follows a memo, as long as it asks no more', () => {
    // 10.00 of tax where 4.55 are due on the part of 55.20; on 35.20 2.90 are.
    const job = withDocument(jobOf(), { taxLeftCents: cents(1_000) });
    const dismissed = flagged(job, 'tax_wrong');
    expect(dismissed).toMatchObject([{ overCents: 545 }]);
    const credited = [{ key: keysOf(capacitor()).part, amountCents: cents(2_000) }];
    const after = withDocument(job, { credited, taxLeftCents: cents(835) });
    const [found] = flagged(after, 'tax_wrong');
    expect(found).toMatchObject({ overCents: 545, corrections: [{ key: 'tax', toCents: 290 }] });
    const answers = (known: AskedBack | undefined) =>
      known !== undefined && found !== undefined && answersFor(known, found);
    expect(answers(dismissed[0])).toBe(true);
    expect(judgeJob(after, currentAuditRuleset, dismissed).openCents).toBe(0);
    // A cent more is another matter.
    expect(answers(dismissed[0] && { ...dismissed[0], overCents: 544 })).toBe(false);
  });
});

describe('what a later memo makes of something dismissed', () => {
  it('labor stays dismissed though the fee that was credited against it is given back', () => {
    // 113.25 of labor less the 44.50 that the yes credited: 68.75. The other 44.50 of the fee of a
    // callback go back; without a fee nothing stands in place of it, and 113.25 would be too much.
    const reset = breakerReset({ remedyClass: 'repair', minutes: 45, accessMinutes: 0 });
    const whole = jobOf({ work: [reset] });
    const visits = (whole.visits ?? []).map((visit) => ({ ...visit, purpose: 'callback' }));
    const job = { ...whole, visits };
    const dismissed = flagged(job, 'reset_billed_as_repair');
    expect(dismissed.map(({ overCents }) => overCents)).toEqual([6_875]);
    const back = correctedByFlag(job, 'fee_charged_twice', currentAuditRuleset, dismissed);
    expect(back.map(({ totalCents }) => totalCents)).toEqual([4_450]);
    const after = judgeJob(putRight(job, back), currentAuditRuleset, dismissed);
    expect(after.openCents).toBe(0);
    // The labor was dismissed as labor: raised since, it is another matter.
    const raised = charging(job, { [keysOf(reset).labor]: 11_425 });
    expect(judgeJob(raised, currentAuditRuleset, dismissed).openCents).toBeGreaterThan(0);
  });

  /** Taxed at 10 %, 5.52 on 55.20, where 8.18 % are in force: 4.515 -> 4.52. 1.00 is too much. */
  function overtaxed(credited: number, taxLeftCents: number): JobFacts {
    const { taxInForce } = documentOf(jobOf({ tax: { rate: '0.0818' } }));
    return withDocument(jobOf({ tax: { rate: '0.10' } }), {
      ...(taxInForce && { taxInForce }),
      credited:
        credited === 0 ? [] : [{ key: keysOf(capacitor()).part, amountCents: cents(credited) }],
      taxLeftCents: cents(taxLeftCents),
    });
  }
  const dismissedTax = flagged(overtaxed(0, 552), 'tax_wrong');

  it('a tax stays dismissed though rounding makes it a cent more', () => {
    expect(dismissedTax.map(({ overCents }) => overCents)).toEqual([100]);
    // 10 % of 55.15 are 5.515 -> 5.52, as before; 8.18 % are 4.511 -> 4.51.
    const after = judgeJob(overtaxed(5, 552), currentAuditRuleset, dismissedTax);
    expect(after.flags.map((flag) => [flag.overCents, flag.isDismissed])).toEqual([[101, true]]);
    expect(after.openCents).toBe(0);
  });

  it('a tax that asks for two cents more is another matter, and one that nothing was rounded in', () => {
    expect(judgeJob(overtaxed(5, 553), currentAuditRuleset, dismissedTax).openCents).toBe(102);
    expect(judgeJob(overtaxed(0, 553), currentAuditRuleset, dismissedTax).openCents).toBe(101);
  });

  it('nothing dismissed is asked for again after goodwill with its tax', () => {
    fc.assert(
      fc.property(
        arbitraryBentJobWithoutMemo.filter(isTaxedAlike),
        arbitraryGoodwill,
        (bent, goodwill) => {
          const dismissed = judgeJob(bent).flags.filter(({ overCents }) => overCents > 0);
          const after = judgeJob(goodwill(bent), currentAuditRuleset, dismissed);
          const again = after.flags.filter(
            ({ ruleCode, isDismissed, overCents }) =>
              overCents > 0 &&
              isDismissed !== true &&
              dismissed.some((each) => each.ruleCode === ruleCode),
          );
          expect(again).toEqual([]);
        },
      ),
      { numRuns: 50 },
    );
  });
});

/** Elsewhere goodwill may take off what the rule in force taxes and the bill did not: that is more. */
function isTaxedAlike({ documents }: JobFacts): boolean {
  return documents.every(
    ({ taxing, taxInForce }) =>
      taxing !== undefined &&
      taxInForce?.mode === taxing.tax.mode &&
      String(taxInForce.taxableClasses) === String(taxing.tax.taxableClasses),
  );
}

describe('flags accepted one by one after others were dismissed', () => {
  it('come to what is open, in any order', () => {
    fc.assert(
      fc.property(
        arbitraryBentJob,
        fc.array(fc.nat({ max: 20 }), { minLength: 1, maxLength: 8 }),
        fc.array(fc.boolean(), { minLength: 20, maxLength: 20 }),
        (bent, picks, are) => {
          const dismissed = judgeJob(bent).flags.filter((_, at) => are[at]);
          const { openCents } = judgeJob(bent, currentAuditRuleset, dismissed);
          const { givenCents, sumsCents } = acceptOneByOne(bent, picks, dismissed);
          expect(givenCents).toBe(openCents);
          expect(new Set(sumsCents)).toEqual(new Set([openCents]));
        },
      ),
      { numRuns: 60 },
    );
  });
});
