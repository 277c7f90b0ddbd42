import fc from 'fast-check';
import type { JobDocument, JobFacts } from '../../src/auditing/index.ts';
import { cents, priceQuote } from '../../src/pricing/index.ts';
import { arbitraryInputs } from '../pricing/arbitrary-inputs.ts';
import type { HandInputs, HandWork } from '../pricing/oracle/hand-inputs.ts';
import { contactor, documentOf, inputsOf, jobOf, withDocument } from './job-of.ts';
import { withGoodwill } from './with-goodwill.ts';

/** Random jobs of every feature that pricing has, with nothing wrong about them. */
export const arbitraryJob: fc.Arbitrary<JobFacts> = arbitraryInputs({
  mistakes: false,
  adjustments: true,
}).map(jobFrom);

function jobFrom({ options: [option], ...inputs }: HandInputs): JobFacts {
  const { adjustments = [] } = option ?? {};
  const work = ofOneBook(option?.work ?? []);
  const whole = { work, adjustments, inputs };
  // Of what was adjusted beyond its band there is no healthy job.
  const isPriced = priceQuote(inputsOf(work, whole)).outcome === 'priced';
  return jobOf(isPriced ? whole : { work, inputs });
}

/** One book has one task and one part of a code, so that twins are alike. */
function ofOneBook(work: readonly HandWork[]): HandWork[] {
  const tasks = new Map(work.map((each) => [each.taskCode, each]));
  const parts = new Map(work.flatMap((each) => each.parts.map((part) => [part.code, part])));
  const goods = new Map(
    work.flatMap((each) => (each.goods ?? []).map((good) => [good.code, good])),
  );
  return work.map((each) => {
    const { minutes, accessGroup, accessMinutes } = tasks.get(each.taskCode) ?? each;
    return {
      ...each,
      minutes,
      accessGroup,
      accessMinutes,
      parts: each.parts.map((part) => {
        const { quantity, underManufacturerWarranty } = part;
        return { ...(parts.get(part.code) ?? part), quantity, underManufacturerWarranty };
      }),
      ...(each.goods && {
        goods: each.goods.map((good) => ({
          ...(goods.get(good.code) ?? good),
          quantity: good.quantity,
        })),
      }),
    };
  });
}

/** One thing done wrong to a job; it says nothing of what a rule makes of it. */
type Bend = (job: JobFacts) => JobFacts;

/** Random jobs with up to four random things wrong, some of them twice. */
export const arbitraryBentJobWithoutMemo: fc.Arbitrary<JobFacts> = fc
  .tuple(arbitraryJob, fc.array(arbitraryBend(), { minLength: 1, maxLength: 4 }))
  .map(([job, bends]) => bends.reduce((bent, bend) => bend(bent), job));

/** A memo given before: the owner's goodwill on a charge, with its tax, of one cent up to all of it. */
export const arbitraryGoodwill: fc.Arbitrary<Bend> = fc
  .tuple(fc.nat({ max: 20 }), fc.constantFrom(0.001, 0.01, 0.2, 0.5, 1))
  .map(
    ([at, share]) =>
      (job) =>
        withGoodwill(job, at, share),
  );

/** Half of them with goodwill that was given once it was billed. */
export const arbitraryBentJob: fc.Arbitrary<JobFacts> = fc.oneof(
  arbitraryBentJobWithoutMemo,
  fc
    .tuple(arbitraryBentJobWithoutMemo, arbitraryGoodwill)
    .map(([bent, goodwill]) => goodwill(bent)),
);

function arbitraryBend(): fc.Arbitrary<Bend> {
  const which = fc.nat({ max: 20 });
  const amount = fc.integer({ min: 1, max: 30_000 });
  return fc.oneof(
    fc.tuple(which, amount).map(([at, more]) => raised(at, more)),
    fc.constant<Bend>(onFirst((document) => withLines(document, ({ kind }) => kind !== 'credit'))),
    fc.constant<Bend>(
      onFirst((document) => withLines(document, ({ kind }) => kind !== 'discount')),
    ),
    fc.integer({ min: -300, max: 900 }).map(taxedByMore),
    which.map((at) => refound(at, { standing: 'unproven', priceable: false })),
    which.map((at) => refound(at, { faultCode: 'tripped_breaker', taskCode: 'reset_breaker' })),
    which.map(underWarranty),
    which.map(mendedBefore),
    fc.constant<Bend>((job) => ({
      ...job,
      visits: (job.visits ?? []).map((visit) => ({ ...visit, purpose: 'callback' })),
    })),
    fc.constant<Bend>(billedTwice),
    fc.boolean().map(withChangeOrder),
    fc.constant<Bend>(withFeeByItself),
    fc.constant<Bend>(openedTwice),
    fc.constantFrom('0', '0.05', '0.0825').map(underRate),
    fc.integer({ min: 0, max: 30 }).map(withShorterBook),
  );
}

function onFirst(change: (document: JobDocument) => JobDocument): Bend {
  return ({ documents: [first, ...others], ...job }) => ({
    ...job,
    documents: first === undefined ? [] : [change(first), ...others],
  });
}

function withLines(
  document: JobDocument,
  stays: (line: JobDocument['lines'][number]) => boolean,
): JobDocument {
  return { ...document, lines: document.lines.filter(stays) };
}

function raised(at: number, moreCents: number): Bend {
  return onFirst((document) => {
    const charges = document.lines.filter(({ kind, aimedAt }) => kind !== 'tax' && !aimedAt);
    const charge = charges[at % Math.max(1, charges.length)];
    return {
      ...document,
      lines: document.lines.map((line) =>
        line === charge ? { ...line, amountCents: cents(line.amountCents + moreCents) } : line,
      ),
    };
  });
}

function taxedByMore(moreCents: number): Bend {
  return onFirst((document) => ({
    ...document,
    taxLeftCents: cents(Math.max(0, document.taxLeftCents + moreCents)),
  }));
}

function refound(at: number, changes: object): Bend {
  return onFinding(at, (finding) => ({ ...finding, ...changes }));
}

type Finding = NonNullable<JobFacts['findings']>[number];

function onFinding(at: number, change: (finding: Finding) => Finding): Bend {
  return (job) => {
    const findings = job.findings ?? [];
    const chosen = findings[at % Math.max(1, findings.length)];
    return { ...job, findings: findings.map((each) => (each === chosen ? change(each) : each)) };
  };
}

function underWarranty(at: number): Bend {
  return onFinding(at, (finding) => ({
    ...finding,
    parts: finding.parts.map((part) => ({ ...part, warrantedUntil: '2031-01-01' })),
  }));
}

function mendedBefore(at: number): Bend {
  return (job) => {
    const findings = job.findings ?? [];
    const finding = findings[at % Math.max(1, findings.length)];
    if (finding === undefined) return job;
    const { systemId, faultCode } = finding;
    const repair = {
      ticketNumber: 900,
      systemId,
      faultCode,
      doneOn: '2026-04-20',
      laborWarrantyUntil: '2026-05-20',
      partCategories: [],
    };
    return { ...job, earlierRepairs: [...(job.earlierRepairs ?? []), repair] };
  };
}

function billedTwice(job: JobFacts): JobFacts {
  const [first] = job.documents;
  if (first === undefined || job.documents.length > 1) return job;
  const fee = documentOf(withDocument(jobOf({ work: [] }), { kind: 'visit_fee', position: 2 }));
  return { ...job, documents: [first, withLines(fee, ({ key }) => key === 'visit_fee')] };
}

/** A change order billed beside it, whose finding is on the job or not. */
function withChangeOrder(isFound: boolean): Bend {
  return (job) => {
    const [first, ...others] = job.documents;
    if (first === undefined || others.length > 0) return job;
    const inputs = { visitFee: { chargeable: false as const, reason: 'charged with the quote' } };
    const change = jobOf({ work: [contactor({ findingId: 'finding-change' })], inputs });
    const place = { position: 2, quoteId: 'quote-2', parentQuoteId: first.quoteId };
    return {
      ...job,
      documents: [first, { ...documentOf(change), ...place }],
      ...(isFound && { findings: [...(job.findings ?? []), ...(change.findings ?? [])] }),
    };
  };
}

/**
 * What has a way in of its own is sold once more at the same visit, a quarter of an hour later, priced
 * as if nothing had been opened before.
 */
function openedTwice(job: JobFacts): JobFacts {
  const [first, ...others] = job.documents;
  if (first?.price === undefined || first.agreed === undefined || others.length > 0) return job;
  const { inputs, optionAt } = first.price;
  const behind = inputs.options[optionAt]?.work.find(({ accessMinutes }) => accessMinutes > 0);
  if (behind?.accessGroup == null) return job;
  const { systemId, accessGroup, accessMinutes } = behind;
  const again = contactor({ findingId: 'finding-again', systemId, accessGroup, accessMinutes });
  const visitFee = { chargeable: false as const, reason: 'charged with the quote' };
  const change = jobOf({ work: [again], inputs: { visitFee } });
  const agreed = { ...first.agreed, acceptedAt: '2026-05-04T16:25:00Z' };
  const place = { position: 2, quoteId: 'quote-2', parentQuoteId: first.quoteId };
  const visitId = 'visit-1';
  return {
    ...job,
    documents: [
      { ...first, visitId },
      { ...documentOf(change), ...place, visitId, agreed },
    ],
    findings: [...(job.findings ?? []), ...(change.findings ?? [])],
  };
}

/** Its fee on a document of its own, with nothing of it credited. */
function withFeeByItself(job: JobFacts): JobFacts {
  const [first, ...others] = job.documents;
  if (first?.price === undefined || others.length > 0) return job;
  const { price, ...document } = first;
  const visitFee = { chargeable: false as const, reason: 'billed by itself' };
  const own = jobOf({ work: [] });
  const fee: JobDocument = {
    ...documentOf(own),
    ...{ kind: 'visit_fee', position: 2, quoteId: null, visitId: 'visit-1' },
  };
  const rest: JobDocument = {
    ...document,
    visitId: 'visit-1',
    price: { ...price, inputs: { ...price.inputs, visitFee } },
  };
  return {
    ...job,
    documents: [
      withLines(rest, ({ priceClass }) => priceClass !== 'visit_fee'),
      withLines(fee, ({ key }) => key === 'visit_fee'),
    ],
  };
}

function underRate(rate: string): Bend {
  return onFirst((document) =>
    document.taxInForce ? { ...document, taxInForce: { ...document.taxInForce, rate } } : document,
  );
}

function withShorterBook(minutes: number): Bend {
  return onFirst((document) => {
    const { book } = document;
    if (book === undefined) return document;
    const tasks = new Map([...book.tasks].map(([code, task]) => [code, { ...task, minutes }]));
    return { ...document, book: { ...book, tasks } };
  });
}
