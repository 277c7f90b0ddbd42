import { describe, expect, it } from 'vitest';
import { type Credit, creditOn, type TaxedDocument } from '../../src/billing/index.ts';
import { cents } from '../../src/pricing/index.ts';
import {
  capacitorWork,
  chargeWork,
  contactorWork,
  refrigerant,
} from '../pricing/oracle/hand-worked.ts';
import {
  at,
  line,
  partsTaxed,
  partsTaxedByLine,
  workedDocument,
  workedLines,
} from './worked-bill.ts';

const everything = ['visit_fee', 'part', 'labor', 'access'] as const;
const onInvoice = workedDocument(partsTaxed);
const byLine = workedDocument(partsTaxedByLine, { lines: workedLines(993) });
const allTaxed = workedDocument(
  { rate: '0.08875', taxableClasses: [...everything] },
  { lines: workedLines(3_400) },
);
const laborTaxed = workedDocument(
  { rate: '0.0825', taxableClasses: ['labor'] },
  { lines: workedLines(1_433) },
);
const lumpSum = workedDocument(
  { ...partsTaxed, mode: 'lump_sum' },
  { lines: workedLines(0), stated: 'lump_sum' },
);
// California Regulation 1546(b)(1): a lump sum with goods above a tenth of it is separated.
const separatedAfterAll = workedDocument({
  ...partsTaxed,
  mode: 'lump_sum',
  separateAboveShare: '0.10',
});
const halfTheFee = line('credit:visit_fee', -4_450, {
  priceClass: 'visit_fee',
  aimedAt: at.fee,
});
// 8.25 % of 89.00 less 44.50 = 3.67125
const feeTaxed = workedDocument(
  { rate: '0.0825', taxableClasses: ['visit_fee'] },
  { lines: workedLines(367, [halfTheFee]) },
);

describe('a credit on the published invoice comes to the cent that a pencil gives', () => {
  it.each<Row>([
    {
      name: 'the contactor, tax once for the invoice: 9.94 less 8.25 % of 55.20 = 4.554',
      document: onInvoice,
      now: { contactor: 6_525 },
      taxCents: 994 - 455,
      totalCents: 7_064,
    },
    {
      name: 'the contactor, tax line by line: its own 5.38 and nothing of the capacitor’s',
      document: byLine,
      now: { contactor: 6_525 },
      taxCents: 538,
      totalCents: 7_063,
    },
    {
      name: 'half the capacitor, once for the invoice: 9.94 less 8.25 % of 92.85 = 7.660',
      document: onInvoice,
      now: { capacitor: 2_760 },
      taxCents: 994 - 766,
      totalCents: 2_988,
    },
    {
      name: 'its other half then: 7.66 less 8.25 % of 65.25 = 5.383',
      document: onInvoice,
      before: { capacitor: 2_760 },
      now: { capacitor: 2_760 },
      taxCents: 766 - 538,
      totalCents: 2_988,
    },
    {
      name: 'half the capacitor, line by line: 4.55 less 8.25 % of 27.60 = 2.277',
      document: byLine,
      now: { capacitor: 2_760 },
      taxCents: 455 - 228,
      totalCents: 2_987,
    },
    {
      name: 'its other half then: the 2.28 that was left',
      document: byLine,
      before: { capacitor: 2_760 },
      now: { capacitor: 2_760 },
      taxCents: 228,
      totalCents: 2_988,
    },
    {
      name: 'labor where parts alone are taxed: no tax goes back',
      document: onInvoice,
      now: { capacitorLabor: 11_325 },
      taxCents: 0,
      totalCents: 11_325,
    },
    {
      name: 'all of it: every cent of tax that was billed',
      document: onInvoice,
      now: {
        fee: 8_900,
        capacitor: 5_520,
        capacitorLabor: 11_325,
        contactor: 6_525,
        contactorLabor: 6_040,
      },
      taxCents: 994,
      totalCents: 39_304,
    },
    {
      name: 'the fee where all is taxed at 8.875 %: 34.00 less 8.875 % of 294.10 = 26.101',
      document: allTaxed,
      now: { fee: 8_900 },
      taxCents: 3_400 - 2_610,
      totalCents: 9_690,
    },
    {
      name: 'labor with a discount lowers the tax of labor by the discounted price: 14.33 less 9.34',
      document: laborTaxed,
      now: { contactorLabor: 6_040 },
      taxCents: 1_433 - 934,
      totalCents: 6_539,
    },
    {
      name: 'a part where labor alone is taxed takes nothing off the tax of labor',
      document: laborTaxed,
      now: { capacitor: 5_520 },
      taxCents: 0,
      totalCents: 5_520,
    },
    {
      name: 'what is left of a fee that was half credited at the yes, with the tax of that half',
      document: feeTaxed,
      now: { fee: 4_450 },
      taxCents: 367,
      totalCents: 4_817,
    },
    {
      name: 'a lump sum had no tax, so none goes back',
      document: lumpSum,
      now: { contactor: 6_525 },
      taxCents: 0,
      totalCents: 6_525,
    },
    {
      name: 'a lump sum that was stated separately stays so, however few goods are left in it',
      document: separatedAfterAll,
      before: { capacitor: 5_520, contactor: 6_000 },
      now: { contactor: 525 },
      // 8.25 % of 5.25 = 0.433
      taxCents: 43,
      totalCents: 568,
    },
  ])('$name', ({ document, before = {}, now, taxCents, totalCents }) => {
    const answer = creditOn(document, creditsOf(before), creditsOf(now));
    expect(answer).toMatchObject({ outcome: 'credited', taxCents, totalCents });
  });

  it('names each line as the invoice did', () => {
    expect(creditOn(onInvoice, [], creditsOf({ contactorLabor: 100 }))).toMatchObject({
      lines: [
        {
          key: at.contactorLabor,
          description: at.contactorLabor,
          priceClass: 'labor',
          amountCents: 100,
        },
      ],
    });
  });
});

describe('goods go back with the tax of the class the price book gave them', () => {
  const [capacitor] = capacitorWork().parts;
  if (capacitor === undefined) throw new Error('the capacitor is a part');
  const asEquipment = capacitorWork({ parts: [{ ...capacitor, taxClass: 'equipment' }] });
  const work = [asEquipment, contactorWork(), chargeWork([refrigerant(10_000)])];
  const chargeKey = 'good:finding-charge:charge_refrigerant:refrigerant';
  const lines = workedLines(0, [line(chargeKey, 7_000, { findingIds: ['finding-charge'] })]);

  it.each([
    // 8.25 % of 55.20 = 4.554, of 65.25 = 5.383, of 70.00 = 5.775
    { taxed: 'equipment', capacitorTax: 455, contactorTax: 0, refrigerantTax: 0 },
    { taxed: 'part', capacitorTax: 0, contactorTax: 538, refrigerantTax: 0 },
    { taxed: 'material', capacitorTax: 0, contactorTax: 0, refrigerantTax: 578 },
  ] as const)('where $taxed alone is taxed', ({ taxed, ...expected }) => {
    const document = workedDocument({ rate: '0.0825', taxableClasses: [taxed] }, { lines, work });
    const taxOf = (key: string, amountCents: number) => {
      const answer = creditOn(document, [], [{ key, amountCents: cents(amountCents) }]);
      return answer.outcome === 'credited' ? answer.taxCents : answer.refusals;
    };
    expect({
      capacitorTax: taxOf(at.capacitor, 5_520),
      contactorTax: taxOf(at.contactor, 6_525),
      refrigerantTax: taxOf(chargeKey, 7_000),
    }).toEqual(expected);
  });
});

describe('a credit is refused', () => {
  it.each<Row & { refused: number[] }>([
    {
      name: 'above what a discount left of the labor',
      document: onInvoice,
      now: { contactorLabor: 6_041 },
      refused: [0],
    },
    {
      name: 'above what the credit at the yes left of the fee',
      document: feeTaxed,
      now: { fee: 4_451 },
      refused: [0],
    },
    {
      name: 'above what an earlier memo left of the part',
      document: onInvoice,
      before: { capacitor: 5_000 },
      now: { capacitor: 521 },
      refused: [0],
    },
    { name: 'for the tax itself', document: onInvoice, now: { tax: 1 }, refused: [0] },
    { name: 'for a discount', document: onInvoice, now: { secondTask: 1 }, refused: [0] },
    { name: 'of nothing', document: onInvoice, now: { fee: 0 }, refused: [0] },
    { name: 'below nothing', document: onInvoice, now: { fee: -1 }, refused: [0] },
    {
      name: 'as a whole, naming each that is wrong',
      document: onInvoice,
      now: { fee: 8_901, capacitor: 5_520, tax: 1 },
      refused: [0, 2],
    },
  ])('$name', ({ document, before = {}, now, refused }) => {
    const answer = creditOn(document, creditsOf(before), creditsOf(now));
    if (answer.outcome === 'credited') throw new Error('that was credited');
    expect(answer.refusals.map((refusal) => refusal.at)).toEqual(refused);
  });

  it('when one memo credits the same line twice and more than once', () => {
    const twice = [...creditsOf({ capacitor: 5_520 }), ...creditsOf({ capacitor: 1 })];
    expect(creditOn(onInvoice, [], twice)).toEqual({
      outcome: 'refused',
      refusals: [{ at: 1, message: 'That is more than is left of this charge.' }],
    });
  });
});

interface Row {
  name: string;
  document: TaxedDocument;
  before?: Amounts;
  now: Amounts;
  taxCents?: number;
  totalCents?: number;
}

type Amounts = Partial<Record<keyof typeof at, number>>;

function creditsOf(amounts: Amounts): Credit[] {
  return (Object.keys(amounts) as (keyof typeof at)[]).map((name) => ({
    key: at[name],
    amountCents: cents(amounts[name] ?? 0),
  }));
}
