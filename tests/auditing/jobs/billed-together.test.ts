import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import type { JobDocument } from '../../../src/auditing/index.ts';
import { billedTogether, billedWith } from '../../../src/auditing/jobs/billed-together.ts';
import { documentOf, jobOf } from '../job-of.ts';

/*
 * A yes credits the visit fee against the labor and access of its visit, change orders included.
 * PRODUCT.md, "Price" and "Quote, acceptance, invoice".
 */

const of = (changes: Partial<JobDocument>): JobDocument => ({ ...documentOf(jobOf()), ...changes });

const fee = of({ kind: 'visit_fee', position: 1, title: 'fee', quoteId: null, visitId: 'visit-1' });
const quote = of({ position: 2, title: 'quote', quoteId: 'quote-1', visitId: 'visit-1' });
const change = of({
  ...{ position: 3, title: 'change', quoteId: 'quote-2', parentQuoteId: 'quote-1' },
  // Found at a later visit; it changes the quote all the same.
  visitId: 'visit-2',
});
const later = of({ position: 4, title: 'later', quoteId: 'quote-3', visitId: 'visit-2' });
const laterFee = of({
  ...later,
  kind: 'visit_fee',
  position: 5,
  title: 'later fee',
  quoteId: null,
});
const nextInvoice = of({
  ...{ invoiceId: 'invoice-2', position: 1, title: 'next invoice', quoteId: 'quote-4' },
  visitId: 'visit-1',
});
const bill = of({ kind: 'bill', position: 6, title: 'bill', quoteId: null, visitId: 'visit-1' });

const all = [fee, quote, change, later, laterFee, nextInvoice, bill];
const titlesOf = (groups: readonly (readonly JobDocument[])[]) =>
  groups.map((group) => group.map(({ title }) => title));

describe('documents of a job', () => {
  it('stand by their visit, by place on their invoices, in whatever order they are given', () => {
    const visits = [['fee', 'quote', 'change', 'next invoice'], ['later', 'later fee'], ['bill']];
    fc.assert(
      fc.property(fc.shuffledSubarray(all, { minLength: all.length }), (shuffled) => {
        expect(titlesOf(billedTogether(shuffled))).toEqual(visits);
      }),
    );
  });

  it.each([
    [fee, ['fee', 'quote', 'change', 'next invoice']],
    [change, ['fee', 'quote', 'change', 'next invoice']],
    [laterFee, ['later', 'later fee']],
    [bill, ['bill']],
  ])('beside $title stand those of its visit', (document, titles) => {
    expect(titlesOf([billedWith(document, all)])).toEqual([titles]);
  });

  it('of no known visit stand by their quote, or alone', () => {
    const unknown = [
      of({ position: 1, title: 'quote' }),
      of({ position: 2, title: 'change', quoteId: 'quote-2', parentQuoteId: 'quote-1' }),
      of({ position: 3, title: 'another quote', quoteId: 'quote-3' }),
      of({ position: 4, title: 'fee', kind: 'visit_fee', quoteId: null }),
      of({ position: 5, title: 'another fee', kind: 'visit_fee', quoteId: null }),
    ];
    expect(titlesOf(billedTogether(unknown))).toEqual([
      ...[['quote', 'change'], ['another quote'], ['fee'], ['another fee']],
    ]);
  });
});
