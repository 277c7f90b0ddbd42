import { describe, expect, it } from 'vitest';
import {
  type Correction,
  correctDocuments,
  type JobDocument,
} from '../../../src/auditing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import {
  capacitor,
  charging,
  contactor,
  documentOf,
  jobOf,
  keysOf,
  withDocument,
} from '../job-of.ts';

/*
 * What a yes credits of the visit fee is held against the labor and access charged of its visit, change
 * orders included, so that repairing never totals less than declining. PRODUCT.md, "Price" and
 * "Quote, acceptance, invoice". Of 89.00 the yes credits 44.50; the capacitor's labor is 113.25.
 */
const first = keysOf(capacitor()).labor;
const second = keysOf(contactor()).labor;
const SECOND_CENTS = laborCents(changeOrder());

/** A change order of the quote, found later and billed beside it. */
function changeOrder(changes: Partial<JobDocument> = {}): JobDocument {
  const visitFee = { chargeable: false as const, reason: 'charged with quote 1001' };
  const document = documentOf(jobOf({ work: [contactor()], inputs: { visitFee } }));
  const place = { position: 2, title: 'quote 1002', quoteId: 'quote-2', parentQuoteId: 'quote-1' };
  return { ...document, ...place, ...changes };
}

function laborCents({ lines }: JobDocument): number {
  const labor = lines.filter(({ priceClass }) => priceClass === 'labor');
  return labor.reduce((sum, { amountCents }) => sum + amountCents, 0);
}

function quote(changes: Partial<JobDocument> = {}): JobDocument {
  return documentOf(withDocument(jobOf(), changes));
}

function toNothing(position: number, key: string): Correction {
  return { invoiceId: 'invoice-1', position, key, toCents: cents(0) };
}

/** What goes back, by document and charge. */
function backOf(documents: readonly JobDocument[], corrections: readonly Correction[]) {
  return Object.fromEntries(
    correctDocuments(documents, corrections).flatMap(({ position, credits }) =>
      credits.map(({ key, amountCents }) => [`${position} ${key}`, amountCents]),
    ),
  );
}

it('a charge that the job does not have is refused', () => {
  const stranger = toNothing(1, 'labor:x:y');
  expect(() => correctDocuments([quote()], [stranger])).toThrow('no document of the job charges');
  expect(() => correctDocuments([quote()], [toNothing(2, first)])).toThrow(first);
});

describe('what a yes credited of the fee is held against the whole visit', () => {
  it('alone, labor goes back down to the fee of a no', () => {
    expect(backOf([quote()], [toNothing(1, first)])).toEqual({ [`1 ${first}`]: 6_875 });
  });

  it('beside a change order whose labor stays, all of it goes back', () => {
    expect(backOf([quote(), changeOrder()], [toNothing(1, first)])).toEqual({
      [`1 ${first}`]: 11_325,
    });
  });

  it('of a change order labor stands in place of the fee where none is left on the quote', () => {
    const undone = quote({ credited: [{ key: first, amountCents: cents(11_325) }] });
    expect(backOf([undone, changeOrder()], [toNothing(2, second)])).toEqual({
      [`2 ${second}`]: SECOND_CENTS - 4_450,
    });
  });

  it('whatever the order of the documents', () => {
    const both = [toNothing(1, first), toNothing(2, second)];
    const back = backOf([quote(), changeOrder()], both);
    expect(back).toEqual(backOf([changeOrder(), quote()], both));
    const sum = Object.values(back).reduce((all, each) => all + each, 0);
    expect(sum).toBe(11_325 + SECOND_CENTS - 4_450);
  });

  it('comes off the same one of two labors that are alike, whichever stands first', () => {
    const job = charging(jobOf({ work: [capacitor(), contactor()] }), { [first]: 10_000 });
    const [discount] = documentOf(job).lines.filter(({ kind }) => kind === 'discount');
    // 120.00 less its discount.
    const alike = charging(job, { [second]: 10_000 - (discount?.amountCents ?? 0) });
    const both = [toNothing(1, first), toNothing(1, second)];
    const document = documentOf(alike);
    const back = backOf([document], both);
    expect(Object.values(back).sort()).toEqual([10_000, 10_000 - 4_450].sort());
    const turned = { ...document, lines: document.lines.toReversed() };
    expect(backOf([turned], both)).toEqual(back);
  });

  it('carries the tax of the labor that goes back, where a fee has none', () => {
    // Of 60.40 that stay it is 4.98, whatever of the other labor stands in place of the fee.
    const job = jobOf({
      work: [capacitor(), contactor()],
      tax: { taxableClasses: ['labor'] },
    });
    const { taxLeftCents } = documentOf(job);
    const [one] = correctDocuments(job.documents, [toNothing(1, first)]);
    expect(one?.taxCents).toBe(taxLeftCents - 498);
    const [both] = correctDocuments(job.documents, [toNothing(1, first), toNothing(1, second)]);
    expect(both?.credits.reduce((all, { amountCents }) => all + amountCents, 0)).toBe(
      11_325 + 6_040 - 4_450,
    );
    expect(both?.taxCents).toBe(taxLeftCents);
  });

  it('of a quote of another visit is held against that one', () => {
    const other = changeOrder({ parentQuoteId: null, visitId: 'visit-2' });
    expect(backOf([quote({ visitId: 'visit-1' }), other], [toNothing(1, first)])).toEqual({
      [`1 ${first}`]: 6_875,
    });
  });
});
