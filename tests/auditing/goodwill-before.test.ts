import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type JobFacts, type JobJudgement, judgeJob } from '../../src/auditing/index.ts';
import { chargedLines } from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import { acceptOneByOne } from './accept-one-by-one.ts';
import { arbitraryBentJobWithoutMemo, arbitraryGoodwill } from './bent-jobs.ts';
import { capacitor, charging, jobOf, keysOf, withDocument } from './job-of.ts';

/*
 * What the owner gave back as goodwill before the audit counts toward what is too much: the customer
 * is given what is over once. PRODUCT.md, "Audit": a correction is a credit memo for the difference.
 */

const { part } = keysOf(capacitor());

/** The part at 75.20 where it computes to 55.20, taxed at 8.25 %: 6.20. 20.00 and 1.65 are too much. */
function tooDear(goodwillCents = 0, taxBackCents = 0): JobFacts {
  return withDocument(charging(jobOf(), { [part]: 7_520 }), {
    credited: goodwillCents === 0 ? [] : [{ key: part, amountCents: cents(goodwillCents) }],
    taxLeftCents: cents(620 - taxBackCents),
  });
}

describe('goodwill with its tax before the audit', () => {
  it.each([
    ['none', tooDear(), 2_165],
    // 65.20 left: 5.38 of tax, 0.82 went with the memo. 10.00 and 0.83 are still too much.
    ['a half of what is too much', tooDear(1_000, 82), 1_083],
    ['a cent of it, on which no tax was', tooDear(1, 0), 2_164],
    ['all of it', tooDear(2_000, 165), 0],
    ['more than all of it', tooDear(3_000, 247), 0],
  ])('%s: the rest of what is too much goes back, and no more', (_, job, overCents) => {
    const judgement = judgeJob(job);
    expect(judgement.overCents).toBe(overCents);
    expect(acceptOneByOne(job, [0]).givenCents).toBe(overCents);
    if (overCents === 0) expect(judgement.flags).toEqual([]);
  });

  it('is set off against what is too much, and never given twice', () => {
    fc.assert(
      fc.property(arbitraryBentJobWithoutMemo, arbitraryGoodwill, (bent, goodwill) => {
        const before = judgeJob(bent);
        const given = goodwill(bent);
        const after = judgeJob(given);
        const charges = chargesOf(bent, given);
        // A fee that was given back whole was not owed, so that no labor stands in place of it.
        const isFeeGone = charges.some(
          ([, { isFee, memoCents, leftCents }]) => isFee && memoCents > 0 && leftCents === 0,
        );
        for (const [charge, { memoCents, leftCents, isTime }] of charges) {
          const rest = Math.max(0, backOf(before, charge) - memoCents);
          const back = backOf(after, charge);
          // Of labor, access and fee less may go back: one of them may stand in place of another.
          if (isTime) expect(back).toBeLessThanOrEqual(isFeeGone ? leftCents : rest);
          else expect(back).toBe(rest);
        }
      }),
      { numRuns: 60 },
    );
  });
});

/** The charges of a job by their place, with what a memo gave back of each. */
function chargesOf(before: JobFacts, after: JobFacts) {
  return before.documents.flatMap((document, at) => {
    const left = chargedLines(after.documents[at]?.lines ?? [], after.documents[at]?.credited);
    return chargedLines(document.lines, document.credited).map(({ line, leftCents }) => {
      const now = left.find(({ line: { key } }) => key === line.key)?.leftCents ?? leftCents;
      const isFee = line.priceClass === 'visit_fee';
      const isTime = isFee || ['labor', 'access'].includes(line.priceClass);
      const place = `${document.invoiceId} ${document.position} ${line.key}`;
      return [place, { memoCents: leftCents - now, leftCents: now, isFee, isTime }] as const;
    });
  });
}

function backOf({ corrected }: JobJudgement, charge: string): number {
  return corrected
    .flatMap(({ invoiceId, position, credits }) =>
      credits.map(({ key, amountCents }) => ({
        place: `${invoiceId} ${position} ${key}`,
        amountCents,
      })),
    )
    .filter(({ place }) => place === charge)
    .reduce((sum, { amountCents }) => sum + amountCents, 0);
}
