import fc from 'fast-check';
import type { JobDocument, JobFacts } from '../../src/auditing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import { arbitraryBentJob } from './bent-jobs.ts';
import { billOf, fairFor } from './bill-of.ts';
import { breakerReset, capacitor, contactor } from './job-of.ts';

/** Something that no honest record holds, and that no rule may stumble over. */
type Break = (job: JobFacts) => JobFacts;

/** Amounts of every size that a column of the database holds, and beyond. */
const amount = fc.oneof(
  fc.integer({ min: -3, max: 3 }),
  fc.integer({ min: -100_000, max: 100_000 }),
  fc.integer({ min: -2_000_000_000, max: 2_000_000_000 }),
  fc.constantFrom(-9_000_000_000_000, 9_000_000_000_000),
);
const which = fc.nat({ max: 20 });
const quantity = fc.constantFrom('0', '0.001', '0.5', '1', '2.5', '3', '9999');

/** Bent jobs and bills with up to four things in their records that nothing else agrees with. */
export const arbitraryBrokenJob: fc.Arbitrary<JobFacts> = fc
  .tuple(
    fc.oneof(arbitraryBentJob, arbitraryBill()),
    fc.array(arbitraryBreak(), { minLength: 1, maxLength: 4 }),
  )
  .map(([job, breaks]) => breaks.reduce((broken, each) => each(broken), job));

function arbitraryBill(): fc.Arbitrary<JobFacts> {
  const charge = fc.integer({ min: 0, max: 200_000 });
  const amounts = fc.record(
    { visit_fee: charge, labor: charge, part: charge, lump: charge },
    { requiredKeys: [] },
  );
  const work = fc.constantFrom([], [capacitor()], [breakerReset()], [capacitor(), contactor()]);
  const hours = fc.constantFrom('0', '0.001', '1', '2.75', '400');
  const clock = fc.constantFrom(0, 1, 59, 720);
  return fc.tuple(amounts, work, hours, clock, fc.boolean()).map((drawn): JobFacts => {
    const [billed, items, said, clockMinutes, isPriced] = drawn;
    const fair = isPriced ? fairFor(items) : undefined;
    const bill = { parts: [], hours: said, clockMinutes, ...(fair && { fair }) };
    return { ...billOf(billed, { taxCents: 100 }), bill };
  });
}

function arbitraryBreak(): fc.Arbitrary<Break> {
  return fc.oneof(
    fc.tuple(which, amount, fc.boolean()).map(adjustedBy),
    fc.constantFrom('pricing-0', '').map((rulesetVersion) => pricedOtherwise({ rulesetVersion })),
    fc.constantFrom(-1, 7).map((optionAt) => pricedOtherwise({ optionAt })),
    fc.tuple(which, amount).map(givenBack),
    fc
      .nat({ max: 900_000 })
      .map((taxCents) => onDocuments((each) => ({ ...each, taxLeftCents: cents(taxCents) }))),
    fc.tuple(which, quantity).map(putIn),
    fc.constantFrom<Break>(
      (job) => ({ ...job, documents: [] }),
      (job) => ({ ...job, findings: [] }),
      (job) => ({ ...job, visits: [] }),
      (job) => ({ ...job, work: { outcomes: [], uses: [] } }),
      (job) => ({ ...job, findings: (job.findings ?? []).map((each) => ({ ...each, id: 'no' })) }),
      (job) => ({ ...job, findings: (job.findings ?? []).map(ofNothing) }),
      (job) => ({ ...job, ended: 'cancelled' }),
      (job) => ({
        ...job,
        visits: (job.visits ?? []).map((each) => ({ ...each, arrivedAt: null, leftAt: null })),
      }),
      onDocuments((each) => ({ ...each, lines: [] })),
      onDocuments((each) => ({ ...each, quoteId: 'quote-of-nobody' })),
      onDocuments((each) => ({ ...each, taxInForce: null })),
      onDocuments(({ price: _, taxing: __, book: ___, agreed: ____, ...each }) => each),
      onDocuments(withTwoOfEach),
      onDocuments(withEmptyBook),
      onDocuments((each) => ({ ...each, kind: 'visit_fee' })),
    ),
  );
}

function onDocuments(change: (document: JobDocument) => JobDocument): Break {
  return (job) => ({ ...job, documents: job.documents.map(change) });
}

/** In the stored inputs and on the bill, or aimed at what is not there. */
function adjustedBy([at, amountCents, byOwner]: [number, number, boolean]): Break {
  return onDocuments((document) => {
    const { lines, price } = document;
    const aimedAt = lines[at]?.key ?? 'labor:no:no';
    const by = { aimedAt, amountCents: cents(amountCents), reason: 'Agreed', byOwner };
    const line = {
      key: `adjustment:${aimedAt}:${lines.length}`,
      kind: 'adjustment',
      priceClass: 'labor',
      description: 'Adjustment',
      aimedAt,
      findingIds: [],
      amountCents: cents(amountCents),
    };
    const options = (price?.inputs.options ?? []).map((option) => ({
      ...option,
      adjustments: [...option.adjustments, by],
    }));
    return {
      ...document,
      lines: [...lines, line],
      ...(price && { price: { ...price, inputs: { ...price.inputs, options } } }),
    };
  });
}

function pricedOtherwise(changes: { rulesetVersion?: string; optionAt?: number }): Break {
  return onDocuments(({ price, ...document }) => ({
    ...document,
    ...(price && { price: { ...price, ...changes } }),
  }));
}

function givenBack([at, amountCents]: [number, number]): Break {
  return onDocuments((document) => {
    const key = document.lines[at]?.key ?? 'labor:no:no';
    return {
      ...document,
      credited: [...document.credited, { key, amountCents: cents(amountCents) }],
    };
  });
}

function putIn([at, said]: [number, string]): Break {
  return ({ work, ...job }) => ({
    ...job,
    ...(work && {
      work: {
        ...work,
        uses: work.uses.map((use, place) =>
          place === at % work.uses.length ? { ...use, quantity: said } : use,
        ),
      },
    }),
  });
}

type Finding = NonNullable<JobFacts['findings']>[number];

function ofNothing(finding: Finding): Finding {
  return { ...finding, faultCode: 'of_nothing', taskCode: 'do_nothing', remedyClass: 'nothing' };
}

/** The same work twice in what a document was priced from, which the engine refuses. */
function withTwoOfEach({ price, ...document }: JobDocument): JobDocument {
  if (price === undefined) return document;
  const options = price.inputs.options.map((option) => ({
    ...option,
    work: [...option.work, ...option.work],
  }));
  return { ...document, price: { ...price, inputs: { ...price.inputs, options } } };
}

function withEmptyBook({ book, ...document }: JobDocument): JobDocument {
  const none = { periods: new Map(), tasks: new Map(), parts: new Map(), agreements: new Map() };
  return { ...document, ...(book && { book: { ...book, ...none } }) };
}
