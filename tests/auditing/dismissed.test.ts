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
import { arbitraryBentJob } from './bent-jobs.ts';
import { breakerReset, capacitor, documentOf, jobOf, keysOf, withDocument } from './job-of.ts';
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
