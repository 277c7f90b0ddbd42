import { describe, expect, it } from 'vitest';
import type { JobFacts } from '../../../src/auditing/index.ts';
import type { BilledLine } from '../../../src/billing/index.ts';
import { cents } from '../../../src/pricing/index.ts';
import { billOf, fairFor } from '../bill-of.ts';
import {
  capacitor,
  charging,
  documentOf,
  jobOf,
  keysOf,
  withDocument,
  withoutOfDocument,
} from '../job-of.ts';
import { holdsCases, judgedBy } from './rule-cases.ts';

/*
 * A charge with what is adjusted on it stays at most its computed price and the policy's tolerance
 * of 10 %, unless the owner said otherwise. PRODUCT.md, "Price": part 55.20 -> at most 60.72, labor
 * 113.25 -> 124.575, so at most 124.57. Capacitors that cost under $20 billed at $700 and at $2,000:
 * common practice, no source. Tax 8.25 % on parts.
 */
const { part, labor } = keysOf(capacitor());

/** The capacitor's line at another amount, taxed as a bill would tax it. */
function partAt(amountCents: number, taxCents: number): JobFacts {
  const job = charging(jobOf(), { [part]: amountCents });
  return withDocument(job, { taxLeftCents: cents(taxCents) });
}

function adjusted(aimedAt: string, amountCents: number, byOwner: boolean): JobFacts {
  return jobOf({ adjustments: [{ aimedAt, amountCents, reason: 'Long walk', byOwner }] });
}

/** The same adjustment on the bill and in what it was priced from, past what the engine allows. */
function adjustedBeyond(aimedAt: string, amountCents: number): JobFacts {
  const job = jobOf();
  const document = documentOf(job);
  const { price } = document;
  if (price === undefined) throw new Error('the job has its price');
  const reason = 'Long walk';
  const adjustments = [{ aimedAt, amountCents: cents(amountCents), reason, byOwner: false }];
  const options = price.inputs.options.map((option) => ({ ...option, adjustments }));
  const line: BilledLine = {
    key: `adjustment:${aimedAt}:1`,
    kind: 'adjustment',
    priceClass: 'labor',
    description: 'Adjustment',
    aimedAt,
    findingIds: [],
    amountCents: cents(amountCents),
  };
  return withDocument(job, {
    lines: [...document.lines, line],
    price: { ...price, inputs: { ...price.inputs, options } },
  });
}

function creditKeyOf(job: JobFacts): string {
  return documentOf(job).lines.find(({ kind }) => kind === 'credit')?.key ?? '';
}

/** By no tax rule: the fee 89.00 - 44.50, the part 55.20, labor 113.25; in all 212.95, at most 234.24. */
const fair = fairFor([capacitor()], { tax: { rate: '0' } });
/** With our tax in it 217.50, at most 239.25. */
const fairTaxed = fairFor([capacitor()]);

describe('no charge is above its ceiling without the owner', () => {
  holdsCases('above_ceiling', [
    { name: 'the price of the book', job: () => jobOf(), expected: 'clear' },
    {
      name: 'raised by hand up to the ceiling',
      job: () => adjusted(part, 552, false),
      expected: 'clear',
    },
    {
      name: 'raised by the owner beyond it',
      job: () => adjusted(labor, 9_000, true),
      expected: 'clear',
    },
    {
      name: 'raised by hand beyond it: labor at 133.25 comes to 124.57',
      job: () => adjustedBeyond(labor, 2_000),
      expected: { back: { [labor]: 868 }, overCents: 868 },
    },
    {
      // Tax 57.75 -> 5.01 on 60.72.
      name: 'a capacitor that cost 18.40 billed at $700 comes to 60.72',
      job: () => partAt(70_000, 5_775),
      expected: { back: { [part]: 63_928 }, taxCents: 5_274, overCents: 69_202 },
    },
    {
      // Tax 165.00 -> 5.01.
      name: 'and at $2,000',
      job: () => partAt(200_000, 16_500),
      expected: { back: { [part]: 193_928 }, taxCents: 15_999, overCents: 209_927 },
    },
    {
      name: 'a fee above what was told, whose band is that one amount',
      job: () => charging(jobOf(), { visit_fee: 9_900 }),
      expected: { back: { visit_fee: 1_000 }, overCents: 1_000 },
    },
    {
      name: 'what is above it and was given back already',
      job: () =>
        withDocument(partAt(70_000, 501), {
          credited: [{ key: part, amountCents: cents(63_928) }],
        }),
      expected: 'clear',
    },
    {
      name: 'of what was given back wholly nothing is too much, though it was far above',
      job: () =>
        withDocument(partAt(70_000, 0), {
          credited: [{ key: part, amountCents: cents(70_000) }],
        }),
      expected: 'clear',
    },
    {
      name: 'a fee above what was told of which a yes credited all',
      job: () => {
        const job = charging(jobOf(), { visit_fee: 9_900 });
        return charging(job, { [creditKeyOf(job)]: -9_900 });
      },
      expected: 'clear',
    },
    {
      name: 'what was given back by half comes down by the rest',
      job: () =>
        withDocument(partAt(70_000, 2_138), {
          // Left of the part are 259.20 with 21.38 of tax.
          credited: [{ key: part, amountCents: cents(44_080) }],
        }),
      expected: { back: { [part]: 19_848 }, taxCents: 1_637, overCents: 21_485 },
    },
    {
      name: 'without what it was priced from it cannot be said',
      job: () => withoutOfDocument(jobOf(), 'price'),
      expected: { missing: ['price_inputs'] },
    },
    {
      name: 'a bill of $700 in one sum for a capacitor comes to 239.25',
      job: () => billOf({ lump: 70_000 }, { fair: fairTaxed }),
      expected: { back: { lump: 46_075 }, overCents: 46_075 },
    },
    {
      name: 'and of $2,000',
      job: () => billOf({ lump: 200_000 }, { fair: fairTaxed }),
      expected: { back: { lump: 176_075 }, overCents: 176_075 },
    },
    {
      name: 'a bill of one sum at the ceiling',
      job: () => billOf({ lump: 23_925 }, { fair: fairTaxed }),
      expected: 'clear',
    },
    {
      // 539.00 - 234.24; the fee at most 48.95, labor 124.57, parts 60.72.
      name: 'a bill that splits its charges: each comes down to its own ceiling',
      job: () => billOf({ visit_fee: 8_900, labor: 30_000, part: 15_000 }, { fair }),
      expected: { back: { visit_fee: 4_005, labor: 17_543, part: 8_928 }, overCents: 30_476 },
    },
    {
      // 449.00 - 234.24 = 214.76: labor was cheap, and no more than the whole is too much.
      name: 'no more goes back than the whole is too much, the most of where it is the most',
      job: () => billOf({ visit_fee: 8_900, labor: 6_000, part: 30_000 }, { fair }),
      expected: { back: { part: 21_476 }, overCents: 21_476 },
    },
    {
      name: 'a bill that is dear in one and cheap in another, and fair as a whole',
      job: () => billOf({ visit_fee: 4_400, labor: 15_000, part: 4_000 }, { fair }),
      expected: 'clear',
    },
    {
      // 700.00 - 234.24; the fee at most 48.95, and the rest, parts and labor, 185.295.
      name: 'a bill that tells its fee and nothing else',
      job: () => billOf({ visit_fee: 8_900, lump: 61_100 }, { fair }),
      expected: { back: { lump: 42_571, visit_fee: 4_005 }, overCents: 46_576 },
    },
    {
      // 551.38 - 239.25; labor at most 124.57, parts 60.72, the fee 48.95, and of the tax the rest.
      name: 'a bill that tells its tax is too much by its tax as well',
      job: () =>
        billOf(
          { visit_fee: 8_900, labor: 30_000, part: 15_000 },
          { fair: fairTaxed, taxCents: 1_238 },
        ),
      expected: {
        back: { labor: 17_543, part: 8_928, visit_fee: 4_005 },
        taxCents: 737,
        overCents: 31_213,
      },
    },
    {
      name: 'and so is one of the same total that does not tell it',
      job: () => billOf({ lump: 55_138 }, { fair: fairTaxed }),
      expected: { back: { lump: 31_213 }, overCents: 31_213 },
    },
    {
      // 539.00 - 234.24: nobody knows what its tax of 12.38 should have been.
      name: 'where no tax rule of ours is on record nothing is said of a bill’s tax',
      job: () =>
        billOf({ visit_fee: 8_900, labor: 30_000, part: 15_000 }, { fair, taxCents: 1_238 }),
      expected: { back: { visit_fee: 4_005, labor: 17_543, part: 8_928 }, overCents: 30_476 },
    },
    {
      name: 'a bill of which nobody knows what was done',
      job: () => billOf({ lump: 70_000 }),
      expected: { missing: ['what_was_done'] },
    },
  ]);

  it('says of a bill what all of it comes to, in one sentence, and nothing of single charges', () => {
    const sentences = (job: JobFacts) =>
      judgedBy('above_ceiling', job).flags.flatMap((flag) => flag.sentences);
    const charges = { visit_fee: 8_900, labor: 30_000, part: 15_000 };
    expect(sentences(billOf(charges, { fair: fairTaxed, taxCents: 1_238 }))).toEqual([
      'The bill charges $551.38. By our price book what it names comes to $217.50, at most $239.25, so $312.13 is too much.',
    ]);
    expect(sentences(billOf(charges, { fair, taxCents: 1_238 }))).toEqual([
      'The bill charges $551.38, $539.00 before its tax. By our price book what it names comes to $212.95, at most $234.24, so $304.76 is too much.',
    ]);
  });
});

it('of parts of one bill the same one goes down, whichever is listed first', () => {
  const job = billOf({ visit_fee: 4_450, labor: 11_325, part: 20_000 }, { fair });
  const [document] = job.documents;
  const [fee, time, capacitors] = document?.lines ?? [];
  if (document === undefined || !fee || !time || !capacitors) throw new Error('all is told apart');
  const parts = ['part:1', 'part:2'].map((key) => ({
    ...capacitors,
    key,
    amountCents: cents(10_000),
  }));
  const backOf = (listed: BilledLine[]) =>
    judgedBy('above_ceiling', {
      ...job,
      documents: [{ ...document, lines: [fee, time, ...listed] }],
    })
      .corrected.flatMap(({ credits }) => credits.map((each) => [each.key, each.amountCents]))
      .sort();
  // 357.75 - 234.24 is too much. Both parts come to 60.72, and the one of them that has all of that
  // is above it by 39.28.
  expect(backOf(parts)).toEqual([
    ['part:1', 2_351],
    ['part:2', 10_000],
  ]);
  expect(backOf(parts.toReversed())).toEqual(backOf(parts));
});
