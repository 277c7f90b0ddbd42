import { describe } from 'vitest';
import type { JobFacts } from '../../../src/auditing/index.ts';
import { cents, type PricingInputs } from '../../../src/pricing/index.ts';
import { bookOf } from '../../pricing/book-of.ts';
import type { HandInputs, HandWork } from '../../pricing/oracle/hand-inputs.ts';
import { workedRates } from '../../pricing/oracle/hand-worked.ts';
import { billOf, fairFor } from '../bill-of.ts';
import {
  capacitor,
  charging,
  contactor,
  documentOf,
  inputsOf,
  jobOf,
  keysOf,
  withDocument,
  withoutOfDocument,
} from '../job-of.ts';
import { holdsCases } from './rule-cases.ts';

/*
 * What was charged is what the price book in force comes to. PRODUCT.md, "Price": labor by minutes
 * at 151.00 an hour, parts at three times their cost, 20 % off a second task, each rounded once.
 */
const { part, labor, access } = keysOf(capacitor());

/** Priced from these figures, though the book in force says what it usually says. */
function pricedFrom(work: HandWork[], inputs: Partial<HandInputs> = {}): JobFacts {
  const usual = [capacitor(), contactor()].filter(({ taskCode }) =>
    work.some((each) => each.taskCode === taskCode),
  );
  return jobOf({ work, inputs, book: bookOf(inputsOf(usual)) });
}

/** Taxed as a bill would tax it. */
function taxed(job: JobFacts, taxCents: number): JobFacts {
  return withDocument(job, { taxLeftCents: cents(taxCents) });
}

const evening = { code: 'evening', laborFactor: '1.5' };

/** The evening is dearer than the book says. */
function inTheEvening(factorOfBook: string): JobFacts {
  const inputs = { period: evening };
  const book = bookOf(inputsOf([capacitor()], { inputs }));
  const periods = new Map([['evening', { code: 'evening', laborFactor: factorOfBook }]]);
  return jobOf({ inputs, book: { ...book, periods } });
}

function otherNames({ options, ...inputs }: PricingInputs): PricingInputs {
  const work = options.flatMap((option) => option.work);
  return {
    ...inputs,
    options: [
      { title: 'Mend', work: work.map((each) => ({ ...each, taskName: 'Swap' })), adjustments: [] },
    ],
  };
}

describe('what was charged is what the price book in force comes to', () => {
  holdsCases('differs_from_book', [
    { name: 'the price of the book', job: () => jobOf(), expected: 'clear' },
    {
      name: 'the same work under another name',
      job: () => jobOf({ book: bookOf(otherNames(inputsOf([capacitor()]))) }),
      expected: 'clear',
    },
    {
      name: 'less than the book',
      job: () => charging(jobOf(), { [labor]: 10_000 }),
      expected: 'clear',
    },
    {
      name: 'an adjustment with its reason on record is not the book’s matter',
      job: () =>
        jobOf({
          adjustments: [{ aimedAt: labor, amountCents: 900, reason: 'Long walk', byOwner: false }],
        }),
      expected: 'clear',
    },
    {
      // 150.00 - 113.25.
      name: 'a line that is dearer than what it was priced from',
      job: () => charging(jobOf(), { [labor]: 15_000 }),
      expected: { back: { [labor]: 3_675 }, overCents: 3_675 },
    },
    {
      // 226.50 - 113.25.
      name: 'ninety minutes where the book has forty-five',
      job: () => pricedFrom([capacitor({ minutes: 90 })]),
      expected: { back: { [labor]: 11_325 }, overCents: 11_325 },
    },
    {
      // The way in takes the book nothing: 20 / 60 x 151.00 = 50.333.
      name: 'a way in that the book does not charge',
      job: () => pricedFrom([capacitor({ accessMinutes: 20 })]),
      expected: { back: { [access]: 5_033 }, overCents: 5_033 },
    },
    {
      // 180.00 - 55.20; tax 14.85 - 4.55.
      name: 'a part at a cost of 60.00 where the book has 18.40',
      job: () => {
        const parts = capacitor().parts.map((each) => ({ ...each, unitCostCents: 6_000 }));
        return pricedFrom([capacitor({ parts })]);
      },
      expected: { back: { [part]: 12_480 }, taxCents: 1_030, overCents: 13_510 },
    },
    {
      // 128.35 / 0.6 = 213.9167 -> 213.92 an hour, 45 min 160.44.
      name: 'a margin of 40 % where the book has 15 %',
      job: () =>
        pricedFrom([capacitor()], {
          rates: workedRates({ annualOverheadCents: 21_011_504, margin: '0.40' }),
        }),
      expected: { back: { [labor]: 4_719 }, overCents: 4_719 },
    },
    {
      // x 4.0: 73.60 - 55.20, its tax 6.07 - 4.55.
      name: 'parts at four times their cost where the book has three',
      job: () =>
        pricedFrom([capacitor()], {
          tiers: { mode: 'progressive', steps: [{ upToCents: null, factor: '4.0' }] },
        }),
      expected: { back: { [part]: 1_840 }, taxCents: 152, overCents: 1_992 },
    },
    {
      // The factor of a period was told at the call, by the book that was in force then.
      name: 'the evening at the half more that was told at the call, though the book in force has a quarter',
      job: () => inTheEvening('1.25'),
      expected: 'clear',
    },
    {
      name: 'an evening that the book in force does not know any more',
      job: () => {
        const inputs = { period: evening };
        const book = { ...bookOf(inputsOf([capacitor()], { inputs })), periods: new Map() };
        return jobOf({ inputs, book });
      },
      expected: 'clear',
    },
    { name: 'the evening as the book has it', job: () => inTheEvening('1.5'), expected: 'clear' },
    {
      // 169.88 by the evening's factor; 113.25 by the day's.
      name: 'the evening’s factor on a visit whose window was agreed to by day',
      job: () => withDocument(inTheEvening('1.5'), { hours: { code: 'day', laborFactor: '1' } }),
      expected: { back: { [labor]: 5_663 }, overCents: 5_663 },
    },
    {
      name: 'the evening that was agreed to at the call, though the book in force has it cheaper',
      job: () => withDocument(inTheEvening('1.25'), { hours: evening }),
      expected: 'clear',
    },
    {
      // A plan that ended keeps its discount on the fee alone: labor and parts are charged in full.
      name: 'a maintenance plan that ended is not given more than it kept',
      job: () => {
        const kept = { code: 'comfort', name: 'Comfort plan', discounts: { visit_fee: '1' } };
        const whole = { ...kept, discounts: { visit_fee: '1', labor: '0.10', part: '0.10' } };
        const book = bookOf(inputsOf([capacitor()], { inputs: { agreement: kept } }));
        const agreements = new Map([['comfort', whole]]);
        return jobOf({ inputs: { agreement: kept }, book: { ...book, agreements } });
      },
      expected: 'clear',
    },
    {
      // Billed 151.00 + 90.60 (113.25 less 20 %); by the book 113.25 + 60.40. In all 67.95 too much.
      name: 'a padded second task that became the dearest: no more than all labor is too much',
      job: () => pricedFrom([capacitor(), contactor({ minutes: 60 })]),
      expected: { back: { [keysOf(contactor()).labor]: 6_795 }, overCents: 6_795 },
    },
    {
      // 20 % of 75.50.
      name: 'a second task without its discount',
      job: () => {
        const job = jobOf({ work: [capacitor(), contactor()] });
        const { lines } = documentOf(job);
        return withDocument(job, { lines: lines.filter(({ kind }) => kind !== 'discount') });
      },
      expected: { back: { [keysOf(contactor()).labor]: 1_510 }, overCents: 1_510 },
    },
    {
      name: 'a charge that nothing was priced for',
      job: () => {
        const job = jobOf({ work: [capacitor(), contactor()] });
        return withDocument(job, priceOf(jobOf()));
      },
      expected: {
        // 65.25 with its tax 9.94 - 4.55, and 60.40.
        back: { [keysOf(contactor()).part]: 6_525, [keysOf(contactor()).labor]: 6_040 },
        taxCents: 539,
        overCents: 13_104,
      },
    },
    {
      name: 'an adjustment on the bill that was never priced',
      job: () => {
        const raised = jobOf({
          adjustments: [{ aimedAt: labor, amountCents: 900, reason: 'Long walk', byOwner: false }],
        });
        return withDocument(raised, priceOf(jobOf()));
      },
      expected: { back: { [labor]: 900 }, overCents: 900 },
    },
    {
      name: 'what was given back already',
      job: () =>
        withDocument(charging(jobOf(), { [labor]: 15_000 }), {
          credited: [{ key: labor, amountCents: cents(3_675) }],
        }),
      expected: 'clear',
    },
    {
      // Of the contactor nothing is left; the capacitor's 226.50 come to 113.25 all the same.
      name: 'work left undone makes no other work cheaper',
      job: () => {
        const undone = keysOf(contactor());
        return withDocument(pricedFrom([capacitor({ minutes: 90 }), contactor()]), {
          credited: [
            { key: undone.part, amountCents: cents(6_525) },
            { key: undone.labor, amountCents: cents(6_040) },
          ],
          taxLeftCents: cents(455),
        });
      },
      expected: { back: { [labor]: 11_325 }, overCents: 11_325 },
    },
    {
      name: 'a fee alone, above what was told',
      job: () => feeAlone(9_900),
      expected: { back: { visit_fee: 1_000 }, overCents: 1_000 },
    },
    { name: 'a fee alone, as it was told', job: () => feeAlone(8_900), expected: 'clear' },
    {
      name: 'both too dear: taxes go with what they were on',
      job: () => {
        const parts = capacitor().parts.map((each) => ({ ...each, unitCostCents: 6_000 }));
        return taxed(pricedFrom([capacitor({ parts, minutes: 90 })]), 1_485);
      },
      expected: { back: { [part]: 12_480, [labor]: 11_325 }, taxCents: 1_030, overCents: 24_835 },
    },
    {
      name: 'without what it was priced from it cannot be said',
      job: () => withoutOfDocument(jobOf(), 'price'),
      expected: { missing: ['price_inputs'] },
    },
    {
      name: 'without the book in force it cannot be said',
      job: () => withoutOfDocument(jobOf(), 'book'),
      expected: { missing: ['book_in_force'] },
    },
    {
      name: 'neither where the book in force does not have the task',
      job: () => jobOf({ book: bookOf(inputsOf([contactor()])) }),
      expected: { missing: ['book_in_force'] },
    },
    {
      name: 'without the book, a line that is dearer than what it was priced from',
      job: () => withoutOfDocument(charging(jobOf(), { [labor]: 15_000 }), 'book'),
      expected: { back: { [labor]: 3_675 }, overCents: 3_675 },
    },
    {
      name: 'an imported bill was not priced by a book of ours',
      job: () => billOf({ lump: 70_000 }, { fair: fairFor([capacitor()]) }),
      expected: { missing: ['price_inputs'] },
    },
  ]);
});

/** What another job was priced from, in the words of a document. */
function priceOf(job: JobFacts) {
  const { price, book } = documentOf(job);
  if (price === undefined || book === undefined) throw new Error('the job has price and book');
  return { price, book };
}

function feeAlone(amountCents: number): JobFacts {
  const job = jobOf({ work: [] });
  const { lines } = documentOf(job);
  const fee = lines.filter(({ key }) => key === 'visit_fee');
  return charging(withDocument(job, { kind: 'visit_fee', lines: fee }), {
    visit_fee: amountCents,
  });
}
