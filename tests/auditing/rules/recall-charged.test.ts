import { describe, expect, it } from 'vitest';
import type { EarlierRepair, JobDocument, JobFacts } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { billOf } from '../bill-of.ts';
import {
  capacitor,
  contactor,
  documentOf,
  jobOf,
  keysOf,
  withDocument,
  without,
} from '../job-of.ts';
import { holdsCases, judgedBy } from './rule-cases.ts';

/*
 * The same fault of the same system within the labor warranty is mended again at no charge, and the
 * trip has no fee. PRODUCT.md, "Price". The yes is of May 4, 2026.
 */
const { findingId } = capacitor();
const { part, labor } = keysOf(capacitor());

/** Around the instant at which it was found. */
const BEFORE = '2026-05-04T13:00:00Z';
const AFTER = '2026-05-04T16:40:00Z';

function mendedBefore(changes: Partial<EarlierRepair> = {}, job = jobOf()): JobFacts {
  return {
    ...job,
    earlierRepairs: [
      {
        ticketNumber: 900,
        systemId: 'system-1',
        faultCode: 'run_capacitor_herm',
        doneOn: '2026-04-20',
        laborWarrantyUntil: '2026-05-20',
        partCategories: ['run_capacitor'],
        ...changes,
      },
    ],
  };
}

/** All of it: the fee less its credit, part, labor and tax. */
const everything = {
  back: { visit_fee: 4_450, [part]: 5_520, [labor]: 11_325 },
  taxCents: 455,
  overCents: 21_750,
};

const both = [capacitor({ accessMinutes: 15 }), contactor({ accessMinutes: 15 })];

/** The customer said no, and was billed the fee of the trip. */
function declined(changes: Partial<EarlierRepair> = {}): JobFacts {
  const { lines, ...document } = documentOf(jobOf({ work: [] }));
  const fee: JobDocument = {
    ...document,
    kind: 'visit_fee',
    lines: lines.filter(({ key }) => key === 'visit_fee'),
  };
  return { ...mendedBefore(changes), documents: [fee] };
}

/** Mended at a trip that arrived at an instant; somebody was there at 15:00, and finds it at 18:00. */
function foundLater(arrivedAt: string): JobFacts {
  const job = mendedBefore({ visitId: 'visit-0', arrivedAt, doneAt: AFTER });
  const { visits = [], findings = [] } = job;
  const later = { arrivedAt: '2026-05-04T18:00:00Z', leftAt: '2026-05-04T19:00:00Z' };
  return {
    ...job,
    visits: visits.flatMap((visit) => [visit, { ...visit, ...later, id: 'visit-2' }]),
    findings: findings.map((finding) => ({ ...finding, visitId: 'visit-2' })),
  };
}

/** The contactor, if anything, was found at a second trip with a fee of its own. */
function atTwoTrips(job: JobFacts): JobFacts {
  const { visits = [], findings = [] } = job;
  return {
    ...job,
    visits: visits.flatMap((visit) => [visit, { ...visit, id: 'visit-2' }]),
    findings: findings.map((finding) =>
      finding.faultCode === 'worn_contactor' ? { ...finding, visitId: 'visit-2' } : finding,
    ),
  };
}

describe('our own work that came back is mended again at no charge', () => {
  holdsCases('recall_charged', [
    { name: 'nothing was mended before', job: () => jobOf(), expected: 'clear' },
    { name: 'the same fault within its warranty', job: () => mendedBefore(), expected: everything },
    {
      // Somebody is there from 15:00 and finds it at 15:30.
      name: 'done at an earlier trip and written down late',
      job: () =>
        mendedBefore({ visitId: 'visit-0', arrivedAt: '2026-05-04T14:59:59Z', doneAt: AFTER }),
      expected: everything,
    },
    {
      name: 'done at a trip that arrived later, before this one found it',
      job: () =>
        mendedBefore({ visitId: 'visit-9', arrivedAt: '2026-05-04T15:00:01Z', doneAt: BEFORE }),
      expected: 'clear',
    },
    {
      // Found at the second of two visits, for which somebody came at 18:00.
      name: 'done between two visits of the same ticket, before the one that found it',
      job: () => foundLater('2026-05-04T16:00:00Z'),
      expected: everything,
    },
    {
      name: 'done at a trip that arrived after the visit that found it',
      job: () => foundLater('2026-05-04T18:00:01Z'),
      expected: 'clear',
    },
    {
      name: 'on the last day of it',
      job: () => mendedBefore({ laborWarrantyUntil: '2026-05-04' }),
      expected: everything,
    },
    {
      name: 'the day after',
      job: () => mendedBefore({ laborWarrantyUntil: '2026-05-03' }),
      expected: 'clear',
    },
    {
      name: 'without a warranty',
      job: () => mendedBefore({ laborWarrantyUntil: null }),
      expected: 'clear',
    },
    {
      name: 'another fault',
      job: () => mendedBefore({ faultCode: 'worn_contactor' }),
      expected: 'clear',
    },
    {
      name: 'the same fault of another system',
      job: () => mendedBefore({ systemId: 'system-2' }),
      expected: 'clear',
    },
    {
      name: 'mended later than this',
      job: () => mendedBefore({ doneOn: '2026-05-06', laborWarrantyUntil: '2026-06-05' }),
      expected: 'clear',
    },
    {
      // A ticket that came back has its first mending on record too, and that bill stands.
      name: 'mended by this very work, which came back at a later trip',
      job: () => mendedBefore({ findingId, doneOn: '2026-05-04', doneAt: AFTER }),
      expected: 'clear',
    },
    {
      name: 'mended on the same day, after this was found',
      job: () => mendedBefore({ findingId: 'finding-other', doneOn: '2026-05-04', doneAt: AFTER }),
      expected: 'clear',
    },
    {
      name: 'mended on the same day, before this was found',
      job: () => mendedBefore({ findingId: 'finding-other', doneOn: '2026-05-04', doneAt: BEFORE }),
      expected: everything,
    },
    {
      name: 'mended again for nothing, as it should be',
      job: () =>
        mendedBefore(
          {},
          jobOf({
            work: [capacitor({ recall: true })],
            inputs: { visitFee: { chargeable: false, reason: 'no fee for our own work' } },
          }),
        ),
      expected: 'clear',
    },
    {
      // 9.94 of tax, of which 65.25 of the contactor keep 5.38.
      name: 'beside a new fault, which keeps its charges and the way in',
      job: () => mendedBefore({}, jobOf({ work: both })),
      expected: {
        back: { visit_fee: 4_450, [part]: 5_520, [labor]: 11_325 },
        taxCents: 456,
        overCents: 21_751,
      },
    },
    {
      name: 'one piece of work that mends a second fault too',
      job: () =>
        mendedBefore({}, jobOf({ work: [capacitor({ alsoFindingIds: ['finding-fan'] })] })),
      expected: everything,
    },
    {
      name: 'declined: the trip for our own work has no fee',
      job: () => declined(),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      // The trip was made for something else; the part and its labor are for our own work.
      name: 'found again at the visit of the earlier repair: the call keeps its fee',
      job: () => mendedBefore({ visitId: 'visit-1', doneOn: '2026-05-04', doneAt: BEFORE }),
      expected: {
        // The 44.50 that the yes credited stand in the labor, so that it comes to the fee of a no.
        back: { [part]: 5_520, [labor]: 6_875 },
        taxCents: 455,
        overCents: 12_850,
      },
    },
    {
      name: 'found again at that visit, its labor given back: the call keeps its fee all the same',
      job: () =>
        withDocument(mendedBefore({ visitId: 'visit-1', doneOn: '2026-05-04', doneAt: BEFORE }), {
          credited: [{ key: labor, amountCents: cents(11_325) }],
        }),
      expected: { back: { [part]: 5_520 }, taxCents: 455, overCents: 5_975 },
    },
    {
      name: 'declined after an earlier repair of the same visit: the call keeps its fee',
      job: () => declined({ visitId: 'visit-1', doneOn: '2026-05-04', doneAt: BEFORE }),
      expected: 'clear',
    },
    {
      name: 'sold at two trips, of which one was for our own work: nobody pays a fee for that one',
      job: () => atTwoTrips(mendedBefore({}, jobOf({ work: both }))),
      expected: {
        back: { visit_fee: 4_450, [part]: 5_520, [labor]: 11_325 },
        taxCents: 456,
        overCents: 21_751,
      },
    },
    {
      name: 'a fee that may be of a trip for something else stays charged',
      job: () => atTwoTrips(declined()),
      expected: 'clear',
    },
    {
      name: 'with earlier repairs unknown it cannot be said',
      job: () => without(jobOf(), 'earlierRepairs'),
      expected: { missing: ['earlier_repairs'] },
    },
    {
      name: 'with findings unknown it cannot be said',
      job: () => without(mendedBefore(), 'findings'),
      expected: { missing: ['findings'] },
    },
    {
      name: 'of an imported bill it cannot be said',
      job: () => billOf({ lump: 70_000 }),
      expected: { missing: ['findings', 'earlier_repairs'] },
    },
  ]);
});

describe('what is said of our own work that came back', () => {
  it('each charge names the repair that it is for', () => {
    const both = mendedBefore({}, jobOf({ work: [capacitor(), contactor()] }));
    const [first] = both.earlierRepairs ?? [];
    if (first === undefined) throw new Error('it was mended before');
    const other: EarlierRepair = {
      ...first,
      ticketNumber: 901,
      faultCode: 'worn_contactor',
      laborWarrantyUntil: '2026-05-25',
    };
    const said = judgedBy('recall_charged', { ...both, earlierRepairs: [first, other] })
      .flags.flatMap(({ sentences }) => sentences)
      .map((sentence) =>
        /^([A-Z][a-z]+ ?[a-z]*).*ticket (\d+).*until (.*)\.$/.exec(sentence)?.slice(1),
      );
    expect(said).toEqual([
      // Of a trip for both the last repair.
      ['Visit fee', '901', 'May 25, 2026'],
      ['Contactor ', '901', 'May 25, 2026'],
      ['Replace contactor', '901', 'May 25, 2026'],
      ['Run capacitor', '900', 'May 20, 2026'],
      ['Replace the', '900', 'May 20, 2026'],
    ]);
  });
});
