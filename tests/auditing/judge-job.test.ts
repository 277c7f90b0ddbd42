import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  currentAuditRuleset,
  type JobDocument,
  type JobFacts,
  type JobJudgement,
  judgeJob,
} from '../../src/auditing/index.ts';
import { chargedLines } from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import { arbitraryBentJob, arbitraryJob } from './bent-jobs.ts';
import { billOf, fairFor } from './bill-of.ts';
import {
  breakerReset,
  capacitor,
  charging,
  contactor,
  documentOf,
  drainCleared,
  floatReset,
  jobOf,
  keysOf,
  withDocument,
} from './job-of.ts';
import { putRight } from './put-right.ts';

const { labor, part } = keysOf(capacitor());

/** What a judgement comes to, whatever the order in which things were looked at. */
function inWords({ flags, corrected, overCents }: JobJudgement) {
  return {
    overCents,
    flags: flags.map(({ ruleCode, severity, overCents: over }) => [ruleCode, severity, over]),
    back: corrected
      .flatMap(({ position, credits, taxCents }) => [
        ...credits.map(({ key, amountCents }) => `${position} ${key} ${amountCents}`),
        `${position} tax ${taxCents}`,
      ])
      .sort(),
  };
}

function leftOf(document: JobDocument | undefined): ReadonlyMap<string, number> {
  return new Map(
    chargedLines(document?.lines ?? [], document?.credited).map(({ line, leftCents }) => [
      line.key,
      leftCents,
    ]),
  );
}

describe('a job that nothing is wrong with', () => {
  it.each([
    ['a capacitor', jobOf()],
    ['two tasks', jobOf({ work: [capacitor(), contactor()] })],
    ['a flipped breaker', jobOf({ work: [breakerReset()] })],
    ['a cleared drain', jobOf({ work: [drainCleared(), floatReset()] })],
    ['a no', jobOf({ work: [] })],
  ])('%s has no flag, and every rule can be held against it', (_, job) => {
    const { flags, cannotJudge, corrected, overCents } = judgeJob(job);
    const bill = ['hours_beyond_clock', 'sum_not_split'];
    const missing = cannotJudge.filter(({ ruleCode }) => !bill.includes(ruleCode));
    expect({ flags, missing, corrected, overCents }).toEqual({
      flags: [],
      missing: [],
      corrected: [],
      overCents: 0,
    });
  });

  it('whatever was sold, adjusted, agreed and taxed, it has no flag', () => {
    fc.assert(
      fc.property(arbitraryJob, (job) => {
        expect(judgeJob(job).flags).toEqual([]);
      }),
    );
  });
});

describe('whatever is wrong with a job', () => {
  it('the order of its documents, lines and findings changes nothing', () => {
    fc.assert(
      fc.property(arbitraryBentJob, (job) => {
        const turned: JobFacts = {
          ...job,
          documents: job.documents.toReversed().map((document) => ({
            ...document,
            lines: document.lines.toReversed(),
          })),
          findings: (job.findings ?? []).toReversed(),
          earlierRepairs: (job.earlierRepairs ?? []).toReversed(),
        };
        expect(inWords(judgeJob(turned))).toEqual(inWords(judgeJob(job)));
      }),
    );
  });

  it('no more goes back of a charge, or of the tax, than is left of it', () => {
    fc.assert(
      fc.property(arbitraryBentJob, (job) => {
        for (const { position, credits, taxCents, totalCents } of judgeJob(job).corrected) {
          const document = job.documents.find((each) => each.position === position);
          const left = leftOf(document);
          for (const { key, amountCents } of credits) {
            expect(amountCents).toBeGreaterThan(0);
            expect(amountCents).toBeLessThanOrEqual(left.get(key) ?? 0);
          }
          expect(taxCents).toBeGreaterThanOrEqual(0);
          expect(taxCents).toBeLessThanOrEqual(document?.taxLeftCents ?? 0);
          const sum = credits.reduce((all, each) => all + each.amountCents, 0);
          expect(sum + taxCents).toBe(totalCents);
        }
      }),
    );
  });

  it('two rules about one charge never give it back twice', () => {
    fc.assert(
      fc.property(arbitraryBentJob, (job) => {
        const { flags, corrected, overCents } = judgeJob(job);
        for (const { invoiceId, position, credits } of corrected) {
          const document = job.documents.find((each) => each.position === position);
          const left = leftOf(document);
          for (const { key, amountCents } of credits) {
            const own = flags
              .flatMap(({ corrections }) => corrections)
              .filter((each) => each.invoiceId === invoiceId && each.position === position)
              .filter((each) => each.key === key);
            // A fee that is too dear and a credit of it that was not given are two things.
            const most = [undefined, true].map((asFeeCredit) => {
              const same = own.filter((each) => each.asFeeCredit === asFeeCredit);
              return Math.max(0, ...same.map(({ toCents }) => (left.get(key) ?? 0) - toCents));
            });
            expect(amountCents).toBeLessThanOrEqual(most.reduce((sum, each) => sum + each, 0));
          }
        }
        expect(overCents).toBe(corrected.reduce((sum, { totalCents }) => sum + totalCents, 0));
      }),
    );
  });

  it('once it is given back, nothing is owed any more', () => {
    fc.assert(
      fc.property(arbitraryBentJob, (job) => {
        const again = judgeJob(putRight(job, judgeJob(job).corrected));
        expect(again.overCents).toBe(0);
        expect(again.flags.filter(({ severity }) => severity === 'owed')).toEqual([]);
      }),
    );
  });
});

describe('several wrongs on one bill', () => {
  it('a warranted part on a bill for our own work come back goes back once', () => {
    const job = jobOf();
    const bent: JobFacts = {
      ...job,
      findings: (job.findings ?? []).map((finding) => ({
        ...finding,
        parts: finding.parts.map((each) => ({ ...each, warrantedUntil: '2031-01-01' })),
      })),
      earlierRepairs: [
        {
          ticketNumber: 900,
          systemId: 'system-1',
          faultCode: 'run_capacitor_herm',
          doneOn: '2026-04-20',
          laborWarrantyUntil: '2026-05-20',
          partCategories: [],
        },
      ],
    };
    const { flags, overCents } = judgeJob(bent);
    // 55.20 and its tax 4.55 stand in both; the whole bill is 217.50.
    expect(flags.map(({ ruleCode, overCents: over }) => [ruleCode, over])).toEqual(
      expect.arrayContaining([
        ['warranted_part_charged', 5_975],
        ['recall_charged', 21_750],
      ]),
    );
    expect(overCents).toBe(21_750);
  });

  it('a reset whose yes credited nothing comes to the fee: both wrongs are one', () => {
    // Billed 89.00 + 113.25; a reset is 89.00, and without labor there is nothing to credit it against.
    const job = jobOf({
      work: [breakerReset({ remedyClass: 'repair', minutes: 45, accessMinutes: 0 })],
    });
    const { lines } = documentOf(job);
    const bent = withDocument(job, { lines: lines.filter(({ kind }) => kind !== 'credit') });
    const { flags, corrected, overCents } = judgeJob(bent);
    expect(flags.map(({ ruleCode, overCents: over }) => [ruleCode, over])).toEqual([
      ['reset_billed_as_repair', 11_325],
      ['fee_not_credited', 4_450],
    ]);
    expect(corrected.flatMap(({ credits }) => credits)).toEqual([
      { key: keysOf(breakerReset()).labor, amountCents: 11_325 },
    ]);
    expect(overCents).toBe(11_325);
  });

  it('a bill is held against its ceiling after its hours were: the whole comes to the ceiling, not below', () => {
    // At most 234.24 of 689.00. Four hours of 45 minutes are at most 1.5 for two people: 112.50 of
    // 300.00. What is left, 501.50, goes down by 267.26 more: the part to 60.72, the fee by 27.98.
    const fair = fairFor([capacitor()], { tax: { rate: '0' } });
    const job = billOf({ visit_fee: 8_900, labor: 30_000, part: 30_000 }, { fair });
    const bill = { parts: [], fair, hours: '4', clockMinutes: 45 };
    const { flags, corrected, overCents } = judgeJob({ ...job, bill });
    expect(flags.map(({ ruleCode, overCents: over }) => [ruleCode, over])).toEqual([
      ['above_ceiling', 45_476],
      ['hours_beyond_clock', 18_750],
    ]);
    expect(corrected.flatMap(({ credits }) => credits)).toEqual([
      { key: 'visit_fee', amountCents: 2_798 },
      { key: 'labor', amountCents: 18_750 },
      { key: 'part', amountCents: 23_928 },
    ]);
    expect(overCents).toBe(45_476);
  });

  it('of a bill as much goes back as the whole is too much, or its other wrongs are, whichever is more', () => {
    const amount = fc.integer({ min: 0, max: 60_000 });
    const work = fc.constantFrom([capacitor()], [breakerReset()], [capacitor(), contactor()]);
    const amounts = fc.record(
      { visit_fee: amount, labor: amount, part: amount, lump: amount },
      { requiredKeys: ['labor'] },
    );
    fc.assert(
      fc.property(
        work,
        amounts,
        fc.integer({ min: 0, max: 300 }),
        (items, billed, clockMinutes) => {
          const fair = fairFor(items, { tax: { rate: '0' } });
          const bill = { parts: [], fair, hours: '2', clockMinutes };
          const { flags, overCents } = judgeJob({ ...billOf(billed, { fair }), bill });
          const overOf = (isOfWhole: boolean) =>
            flags
              .filter(({ ruleCode }) => (ruleCode === 'above_ceiling') === isOfWhole)
              .map((flag) => flag.overCents);
          const whole = Math.max(0, ...overOf(true));
          // A reset's labor goes back as a whole, and the clock's share of it is in that.
          const others = Math.max(0, ...overOf(false));
          expect(overCents).toBe(Math.max(whole, others));
        },
      ),
    );
  });

  it('a fee that is too dear and was not credited goes back for both', () => {
    // 99.00 for 89.00 told, and the half of 89.00 that the yes credits.
    const job = charging(jobOf(), { visit_fee: 9_900 });
    const { lines } = documentOf(job);
    const bent = withDocument(job, { lines: lines.filter(({ kind }) => kind !== 'credit') });
    const { corrected, overCents } = judgeJob(bent);
    expect(corrected.flatMap(({ credits }) => credits)).toEqual([
      { key: 'visit_fee', amountCents: 5_450 },
    ]);
    expect(overCents).toBe(5_450);
  });

  it('a wrong tax and a dear part are put right together, by the rule in force', () => {
    // The part at 100.00 taxed at 10 %: 10.00. Put right it is 55.20 at 8.25 %: 4.55.
    const job = charging(jobOf({ tax: { rate: '0.10' } }), { [part]: 10_000 });
    const taxInForce = documentOf(jobOf()).taxInForce;
    if (!taxInForce) throw new Error('the job has its tax rule');
    const bent = withDocument(job, { taxLeftCents: cents(1_000), taxInForce });
    const { corrected, overCents } = judgeJob(bent);
    expect(corrected).toMatchObject([
      { credits: [{ key: part, amountCents: 4_480 }], taxCents: 545, totalCents: 5_025 },
    ]);
    expect(overCents).toBe(5_025);
  });

  it('a flag that was put right is none any more, and one that was not stays', () => {
    const bent = charging(jobOf(), { [labor]: 15_000 });
    const judged = judgeJob(bent);
    expect(judged.flags.map(({ ruleCode }) => ruleCode)).toEqual([
      'above_ceiling',
      'differs_from_book',
    ]);
    expect(judgeJob(putRight(bent, judged.corrected)).flags).toEqual([]);
    expect(judgeJob(bent)).toEqual(judged);
  });

  it('a reset that was put right is none any more, though labor stands where the fee was credited', () => {
    // 44.50 of the labor stay, for the 44.50 of the fee that would not have been credited.
    const bent = jobOf({ work: [breakerReset({ remedyClass: 'repair', minutes: 45 })] });
    const judged = judgeJob(bent);
    expect(judged.overCents).toBe(10_650);
    expect(judgeJob(putRight(bent, judged.corrected)).flags).toEqual([]);
  });

  it('a tax that was too little does not hide what is left of it once everything goes back', () => {
    // 1.00 of tax where 4.55 was due; the part goes back, and no tax is due any more.
    const job = withDocument(jobOf(), { taxLeftCents: cents(100) });
    const findings = (job.findings ?? []).map((finding) => ({
      ...finding,
      standing: 'unproven',
      priceable: false,
    }));
    const { corrected } = judgeJob({ ...job, findings });
    expect(corrected.map(({ taxCents }) => taxCents)).toEqual([100]);
  });
});

describe('the rules of a version', () => {
  it('each has a code of its own, and says what has to hold, and where that comes from', () => {
    const { rules } = currentAuditRuleset;
    expect(new Set(rules.map(({ code }) => code)).size).toBe(rules.length);
    for (const { code, statement, source } of rules) {
      expect(code).toMatch(/^[a-z]+(_[a-z]+)*$/);
      expect(statement).toMatch(/^[A-Z].*\.$/);
      expect(source).not.toBe('');
    }
  });
});
