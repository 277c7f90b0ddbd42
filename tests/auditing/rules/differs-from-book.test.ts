import { describe, expect, it } from 'vitest';
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
  drainCleared,
  inputsOf,
  jobOf,
  keysOf,
  withDocument,
  withoutOfDocument,
} from '../job-of.ts';
import { holdRuleTo } from './hold-rule-to.ts';
import { holdsCases, judgedBy } from './rule-cases.ts';

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
      /*
       * Billed 163.25 - 22.65 + 151.00 = 291.60; priced at 241.60, by the book 113.25 + 60.40. Of the
       * 117.95 too much the 50.00 that it was never priced at are a part, and do not come on top.
       */
      name: 'more than a padded price: what the book takes off holds what the price takes off',
      job: () =>
        charging(pricedFrom([capacitor(), contactor({ minutes: 60 })]), { [labor]: 16_325 }),
      expected: {
        back: { [keysOf(contactor()).labor]: 9_060, [labor]: 2_735 },
        overCents: 11_795,
      },
    },
    {
      // Ten more and fifty more, and a third labor forty less than it is priced: twenty in all.
      name: 'of several labors the one goes down that is furthest above its price',
      job: () => {
        const [contactors, drains] = [keysOf(contactor()).labor, keysOf(drainCleared()).labor];
        const job = jobOf({ work: [capacitor(), contactor(), drainCleared()] });
        return charging(job, {
          [labor]: amountOf(job, labor) + 1_000,
          [contactors]: amountOf(job, contactors) + 5_000,
          [drains]: amountOf(job, drains) - 4_000,
        });
      },
      expected: { back: { [keysOf(contactor()).labor]: 2_000 }, overCents: 2_000 },
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
      name: 'what was given back of something else is no matter of it',
      job: () =>
        withDocument(charging(jobOf(), { [labor]: 15_000 }), {
          credited: [{ key: part, amountCents: cents(1_000) }],
          taxLeftCents: cents(373),
        }),
      expected: { back: { [labor]: 3_675 }, overCents: 3_675 },
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

it('of labors that are too dear alike the same one goes down, whichever stands first', () => {
  const [contactors, drains] = [keysOf(contactor()).labor, keysOf(drainCleared()).labor];
  const job = jobOf({ work: [capacitor(), contactor(), drainCleared()] });
  const dear = charging(job, {
    [labor]: amountOf(job, labor) + 3_000,
    [contactors]: amountOf(job, contactors) + 3_000,
    [drains]: amountOf(job, drains) - 4_000,
  });
  const { lines } = documentOf(dear);
  const backOf = (each: JobFacts) =>
    judgedBy('differs_from_book', each).corrected.flatMap(({ credits }) => credits);
  const back = backOf(dear);
  expect(back.map(({ amountCents }) => amountCents)).toEqual([2_000]);
  expect(backOf(withDocument(dear, { lines: lines.toReversed() }))).toEqual(back);
});

const repair = 'Replace the dual run capacitor';
const swap = 'Replace contactor';

/** The money first, then why, and each charge once. */
holdRuleTo('differs_from_book', [
  {
    name: 'a line dearer than its price says both amounts',
    job: charging(jobOf(), { [labor]: 15_000 }),
    is: {
      says: [
        `$36.75 too much: ${repair} is charged $150.00 on quote 1001 and was priced at $113.25.`,
      ],
      to: { [labor]: 11_325 },
    },
  },
  {
    name: 'padded minutes are told beside those of the book',
    job: pricedFrom([capacitor({ minutes: 90 })]),
    is: {
      says: [
        `$113.25 too much: ${repair} is charged $226.50 on quote 1001 and comes to $113.25 by the price book in force: 90 minutes where the book has 45.`,
      ],
      to: { [labor]: 11_325 },
    },
  },
  {
    // 90 min at 1.5 are 339.75, raised to 400.00; 45 min at 1 are 113.25.
    name: 'minutes, hours and a raised line are one sentence',
    job: charging(
      withDocument(pricedFrom([capacitor({ minutes: 90 })], { period: evening }), {
        hours: { code: 'day', laborFactor: '1' },
        book: withEvening(bookOf(inputsOf([capacitor()]))),
      }),
      { [labor]: 40_000 },
    ),
    is: {
      says: [
        `$286.75 too much: ${repair} is charged $400.00 on quote 1001, was priced at $339.75 and comes to $113.25 by the price book in force: 90 minutes where the book has 45; the evening factor of 1.5 where the hours agreed to have 1.`,
      ],
      to: { [labor]: 11_325 },
    },
  },
  {
    name: 'a padded cost is told beside that of the book',
    job: pricedFrom([
      capacitor({ parts: capacitor().parts.map((each) => ({ ...each, unitCostCents: 6_000 })) }),
    ]),
    is: {
      says: [
        '$124.80 too much: Run capacitor 45/5 uF 440 V is charged $180.00 on quote 1001 and comes to $55.20 by the price book in force: a cost of $60.00 where the book has $18.40.',
      ],
      to: { [part]: 5_520 },
    },
  },
  {
    name: 'a dearer hour is told beside that of the book',
    job: pricedFrom([capacitor()], {
      rates: workedRates({ annualOverheadCents: 21_011_504, margin: '0.40' }),
    }),
    is: {
      says: [
        `$47.19 too much: ${repair} is charged $160.44 on quote 1001 and comes to $113.25 by the price book in force: $213.92 an hour where the book has $151.00.`,
      ],
      to: { [labor]: 11_325 },
    },
  },
  {
    name: 'other factors on parts are named',
    job: pricedFrom([capacitor()], {
      tiers: { mode: 'progressive', steps: [{ upToCents: null, factor: '4.0' }] },
    }),
    is: {
      says: [
        '$18.40 too much: Run capacitor 45/5 uF 440 V is charged $73.60 on quote 1001 and comes to $55.20 by the price book in force: other factors on parts.',
      ],
      to: { [part]: 5_520 },
    },
  },
  {
    name: 'a way in that the book does not have',
    job: pricedFrom([capacitor({ accessMinutes: 20 })]),
    is: {
      says: [
        '$50.33 too much: Access: condenser electrical is charged $50.33 on quote 1001 and comes to $0.00 by the price book in force: 20 minutes where the book has 0.',
      ],
      to: { [access]: 0 },
    },
  },
  {
    name: 'labor is compared as a whole, and the sentence says so',
    job: pricedFrom([capacitor(), contactor({ minutes: 60 })]),
    is: {
      says: [
        `$67.95 too much: ${swap} is charged $151.00 on quote 1001 and comes to $60.40 by the price book in force: 60 minutes where the book has 30. Other labor there is charged $22.65 less than it comes to.`,
      ],
      to: { [keysOf(contactor()).labor]: 8_305 },
    },
  },
  {
    // 10 % off 75.50 are 7.55, 20 % are 15.10.
    name: 'less off a second task than the book gives',
    job: jobOf({
      work: [capacitor(), contactor()],
      inputs: { policy: { ...policyOf(), secondTaskDiscount: '0.1' } },
      book: bookOf(inputsOf([capacitor(), contactor()])),
    }),
    is: {
      says: [
        `$7.55 too much: ${swap} is charged $67.95 on quote 1001 and comes to $60.40 by the price book in force: 10% off second tasks where the book has 20%.`,
      ],
      to: { [keysOf(contactor()).labor]: 6_040 },
    },
  },
  {
    name: 'of what was given back only the rest is too much',
    job: withDocument(charging(jobOf(), { [labor]: 15_000 }), {
      credited: [{ key: labor, amountCents: cents(3_000) }],
    }),
    is: {
      says: [
        `$6.75 too much: ${repair} is charged $120.00 on quote 1001 and was priced at $113.25.`,
      ],
      to: { [labor]: 11_325 },
    },
  },
  {
    name: 'what was never priced',
    job: withDocument(jobOf({ work: [capacitor(), contactor()] }), priceOf(jobOf())),
    is: {
      says: [
        '$65.25 too much: Contactor 30 A, 24 V coil is charged $65.25 on quote 1001 and was never priced.',
        `$60.40 too much: ${swap} is charged $60.40 on quote 1001 and was never priced.`,
      ],
      to: { [keysOf(contactor()).part]: 0, [keysOf(contactor()).labor]: 0 },
    },
  },
]);

/** As it was billed. */
function amountOf(job: JobFacts, key: string): number {
  return documentOf(job).lines.find((line) => line.key === key)?.amountCents ?? 0;
}

function policyOf() {
  return inputsOf([capacitor()]).policy;
}

function withEvening(book: ReturnType<typeof bookOf>): ReturnType<typeof bookOf> {
  return { ...book, periods: new Map([['evening', evening]]) };
}

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
