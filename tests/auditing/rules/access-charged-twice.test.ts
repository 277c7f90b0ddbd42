import { describe, expect, it } from 'vitest';
import {
  currentAuditRuleset,
  type JobDocument,
  type JobFacts,
  judgeJob,
} from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import type { HandInputs, HandWork } from '../../pricing/oracle/hand-inputs.ts';
import { acceptOneByOne } from '../accept-one-by-one.ts';
import { capacitor, contactor, documentOf, jobOf, keysOf, without } from '../job-of.ts';
import { holdsCases } from './rule-cases.ts';

const { access } = keysOf(capacitor());

/*
 * PRODUCT.md, "Price": access is its own line per group, the longest minutes among its charged tasks,
 * once per visit and system. Ten minutes at 151.00 an hour are 25.17, fifteen 37.75.
 */
describe('the way in is charged once per visit and system', () => {
  const twice = { back: { [access]: 2_517 }, overCents: 2_517 };
  holdsCases('access_charged_twice', [
    {
      name: 'a change order behind the same panel that was priced as if it stood alone',
      job: () => changed(contactor({ accessMinutes: 10 })),
      expected: twice,
    },
    {
      name: 'a change order that charges only what takes longer to open',
      job: () => changed(contactor({ accessMinutes: 15 }), opened(10)),
      expected: 'clear',
    },
    {
      // 15 minutes billed whole for 37.75; five are left for 12.58.
      name: 'a change order that takes longer to open, charged whole',
      job: () => changed(contactor({ accessMinutes: 15 })),
      expected: { back: { [access]: 2_517 }, overCents: 2_517 },
    },
    {
      name: 'a change order that was priced in the knowledge of the first',
      job: () => changed(contactor({ accessMinutes: 10 }), opened(10)),
      expected: 'clear',
    },
    {
      name: 'another system has a way in of its own',
      job: () => changed(contactor({ accessMinutes: 10, systemId: 'system-2' })),
      expected: 'clear',
    },
    {
      name: 'another visit opens it anew',
      job: () => changed(contactor({ accessMinutes: 10 }), {}, { visitId: 'visit-2' }),
      expected: 'clear',
    },
    {
      name: 'the first way in was taken off again, because its work was left undone',
      job: () => {
        const job = changed(contactor({ accessMinutes: 10 }));
        const [first, second] = job.documents;
        if (first === undefined || second === undefined) throw new Error('the job has two');
        const credited = [{ key: access, amountCents: cents(2_517) }];
        return { ...job, documents: [{ ...first, credited }, second] };
      },
      expected: 'clear',
    },
  ]);
});

/** A job with ten minutes of access to its capacitor, and a change order found at the same visit. */
function changed(
  work: HandWork,
  inputs: Partial<HandInputs> = {},
  changes: Partial<JobDocument> = {},
): JobFacts {
  const job = jobOf({ work: [capacitor({ accessMinutes: 10 })] });
  const visitFee = { chargeable: false, reason: 'charged with quote 1001' } as const;
  const other = jobOf({ work: [work], inputs: { visitFee, ...inputs } });
  const order: JobDocument = {
    ...documentOf(other),
    ...{ position: 2, title: 'quote 1002', quoteId: 'quote-2', parentQuoteId: 'quote-1' },
    visitId: 'visit-1',
    agreed: {
      ...{ issuedAt: '2026-05-04T16:40:00Z', acceptedAt: '2026-05-04T16:45:00Z' },
      acceptedOn: '2026-05-04',
    },
    ...changes,
  };
  return {
    ...job,
    documents: [{ ...documentOf(job), visitId: 'visit-1' }, order],
    findings: [...(job.findings ?? []), ...(other.findings ?? [])],
  };
}

/** What the capacitor's document had opened. */
function opened(minutes: number): Partial<HandInputs> {
  const { systemId, accessGroup } = capacitor();
  return { earlierWork: { access: [{ systemId, accessGroup, minutes }], labor: [] } };
}

describe('beside other rules', () => {
  /** The capacitor of the first document is our own work of ticket 900 come back. */
  function cameBack(): JobFacts {
    const repair = {
      ...{ ticketNumber: 900, systemId: 'system-1', faultCode: 'run_capacitor_herm' },
      ...{ doneOn: '2026-04-20', laborWarrantyUntil: '2026-05-20', partCategories: [] },
    };
    const job = without(changed(contactor({ accessMinutes: 10 })), 'work');
    return { ...job, earlierRepairs: [repair] };
  }

  it('the way in of a change order stays where the first one goes back', () => {
    // 44.50 of the fee, 55.20, 113.25, 25.17 and 4.55 of tax go back; the second 25.17 are owed.
    const { flags, overCents } = judgeJob(cameBack());
    expect(flags.map(({ ruleCode }) => ruleCode)).toEqual(['recall_charged']);
    expect(overCents).toBe(4_450 + 5_520 + 11_325 + 2_517 + 455);
    expect(acceptOneByOne(cameBack(), [0]).givenCents).toBe(overCents);
  });

  it('is too much where the recall was dismissed', () => {
    const dismissed = judgeJob(cameBack()).flags;
    const { flags, openCents } = judgeJob(cameBack(), currentAuditRuleset, dismissed);
    expect(flags.map(({ ruleCode }) => ruleCode)).toEqual([
      'access_charged_twice',
      'recall_charged',
    ]);
    expect(openCents).toBe(2_517);
  });

  it('cannot be told where a document has no price that it was computed from', () => {
    const job = changed(contactor({ accessMinutes: 10 }));
    const documents = job.documents.map((document) => without(document, 'price'));
    const { cannotJudge } = judgeJob({ ...job, documents });
    expect(cannotJudge).toContainEqual({
      ruleCode: 'access_charged_twice',
      missing: ['price_inputs'],
    });
  });
});
