import { describe, expect, it } from 'vitest';
import type { JobDocument, JobFacts, JobVisit } from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { billOf } from '../bill-of.ts';
import { documentOf, jobOf, without } from '../job-of.ts';
import { holdsCases, judgedBy } from './rule-cases.ts';

/*
 * One visit fee for each trip, none for coming back with a part or for our own work. PRODUCT.md,
 * "Price". The published invoice's fee of 89.00, of which the yes credits 44.50.
 */
function visits(...changes: Partial<JobVisit>[]): JobVisit[] {
  const [visit] = jobOf().visits ?? [];
  if (visit === undefined) throw new Error('the job has its visit');
  return changes.map((change, at) => ({ ...visit, id: `visit-${at + 1}`, ...change }));
}

/** The fee of a trip without a yes, as a document of its own. */
function feeDocument(position: number, amountCents = 8_900): JobDocument {
  const whole = documentOf(jobOf({ work: [] }));
  return {
    ...whole,
    position,
    kind: 'visit_fee',
    title: 'the fee of May 5',
    quoteId: null,
    lines: whole.lines
      .filter(({ key }) => key === 'visit_fee')
      .map((line) => ({ ...line, amountCents: cents(amountCents) })),
  };
}

function withFees(job: JobFacts, ...more: JobDocument[]): JobFacts {
  return { ...job, documents: [...job.documents, ...more] };
}

const none = { feeCents: cents(0) };
const returning = { purpose: 'return', ...none };
const callback = { purpose: 'callback', ...none };

describe('one visit fee for each trip', () => {
  holdsCases('fee_charged_twice', [
    { name: 'one trip, one fee', job: () => jobOf(), expected: 'clear' },
    {
      name: 'two trips, two fees',
      job: () => ({ ...withFees(jobOf(), feeDocument(2)), visits: visits({}, {}) }),
      expected: 'clear',
    },
    {
      name: 'one trip billed twice: the fee beside the accepted quote goes back',
      job: () => withFees(jobOf(), feeDocument(2)),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      name: 'whatever the order of the documents',
      job: () => {
        const job = withFees(jobOf(), feeDocument(2));
        return { ...job, documents: job.documents.toReversed() };
      },
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      name: 'of three fees for two trips the one that no trip was told',
      job: () => ({
        ...withFees(jobOf({ work: [] }), feeDocument(2, 12_900), feeDocument(3)),
        visits: visits({}, { feeCents: cents(12_900) }),
      }),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      name: 'two systems of one trip, seen at two visits',
      job: () => ({
        ...withFees(jobOf(), feeDocument(2)),
        visits: visits({}, { sameTripAs: 'visit-1', ...none }),
      }),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      name: 'coming back with the part',
      job: () => ({ ...withFees(jobOf(), feeDocument(2)), visits: visits({}, returning) }),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      // Billed 217.50; without the fee and its credit 173.00.
      name: 'a callback has no fee, and none to credit',
      job: () => ({ ...jobOf(), visits: visits(callback) }),
      expected: { back: { visit_fee: 4_450 }, overCents: 4_450 },
    },
    {
      name: 'a call that was told no fee is no trip with one',
      job: () => ({ ...withFees(jobOf(), feeDocument(2)), visits: visits({}, none) }),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      name: 'a visit that was cancelled is no trip',
      job: () => ({
        ...withFees(jobOf(), feeDocument(2)),
        visits: visits({}, { state: 'cancelled', arrivedAt: null, leftAt: null }),
      }),
      expected: { back: { visit_fee: 8_900 }, overCents: 8_900 },
    },
    {
      name: 'given back since',
      job: () => {
        const second = feeDocument(2);
        const credited = [{ key: 'visit_fee', amountCents: cents(8_900) }];
        return withFees(jobOf(), { ...second, credited });
      },
      expected: 'clear',
    },
    {
      name: 'without visits known it cannot be said of a fee',
      job: () => without(jobOf(), 'visits'),
      expected: { missing: ['visits'] },
    },
    {
      name: 'where no fee was charged nobody needs to know of visits',
      job: () =>
        without(
          jobOf({ inputs: { visitFee: { chargeable: false, reason: 'parts return' } } }),
          'visits',
        ),
      expected: 'clear',
    },
    {
      name: 'of a bill of one sum it cannot be said',
      job: () => billOf({ lump: 25_000 }),
      expected: { missing: ['split_of_charge'] },
    },
    {
      name: 'of a bill that tells a part of it in one sum it cannot be said',
      job: () => billOf({ labor: 11_325, lump: 25_000 }),
      expected: { missing: ['split_of_charge'] },
    },
    {
      name: 'a bill that tells all of it apart and no fee charges none',
      job: () => billOf({ labor: 11_325, part: 5_520 }),
      expected: 'clear',
    },
    {
      name: 'a fee that was given back is the one too many',
      job: () => {
        const job = withFees(jobOf(), feeDocument(2));
        const [yes, ...others] = job.documents;
        if (yes === undefined) throw new Error('the job has its yes');
        const credited = [{ key: 'visit_fee', amountCents: cents(8_900) }];
        const lines = yes.lines.filter(({ kind }) => kind !== 'credit');
        return { ...job, documents: [{ ...yes, lines, credited }, ...others] };
      },
      expected: 'clear',
    },
    {
      name: 'of a bill that tells its fee, nobody knows for how many trips',
      job: () => billOf({ visit_fee: 8_900, labor: 11_325 }),
      expected: { missing: ['visits'] },
    },
  ]);
});

it('a fee by itself is called by its day, one on a quote by the quote', () => {
  const job = withFees(jobOf(), feeDocument(2));
  const said = (visits: readonly JobVisit[]) =>
    judgedBy('fee_charged_twice', { ...job, visits }).flags.flatMap(({ sentences }) => sentences);
  expect(said(visits({}))).toEqual([
    'The fee of May 5 is one too many: the job had one trip with a fee, and $89.00 of it is charged.',
  ]);
  expect(said([])[0]).toBe(
    'The visit fee of quote 1001 is one too many: the job had no trip with a fee, and $44.50 of it is charged.',
  );
});

it.each([
  [2, 11],
  [11, 2],
])('of two alike beside a quote, at places %d and %d, the one that was billed later', (...at) => {
  const [one, other] = at;
  const job = withFees(jobOf(), feeDocument(one), feeDocument(other));
  const { corrected } = judgedBy('fee_charged_twice', { ...job, visits: visits({}, {}) });
  expect(corrected.map(({ position }) => position)).toEqual([11]);
});
