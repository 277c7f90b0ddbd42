import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { type BillAsRead, billFactsOf, type FairAnswer } from '../../../src/auditing/index.ts';
import { cents, type TaxRule } from '../../../src/pricing/index.ts';
import { fairBook, regular } from './fair-book.ts';

/*
 * What an imported bill comes to by our price book, worked with a pencil from the text of the
 * product: fee + parts + labor + access - the credit of the fee, which is half of 89.00 = 44.50 but
 * never more than charged labor and access. Prices and bills are invented; that a capacitor for
 * less than 20 dollars is billed at 700 or 2,000 is common practice, no source.
 */

const book = fairBook();
const texas: TaxRule = {
  jurisdiction: 'Pecan County',
  name: 'Sales tax',
  rate: '0.0825',
  taxableClasses: ['part'],
  mode: 'separated',
  basis: 'invoice',
};

const plainBill: BillAsRead = {
  billId: 'bill-1',
  billedOn: '2025-07-03',
  found: '',
  done: '',
  parts: [],
  taxCents: cents(0),
  chargedCents: cents(70_000),
};

function factsOf(bill: Partial<BillAsRead>, terms: { tax?: TaxRule } = {}) {
  return billFactsOf({ ...plainBill, ...bill }, { book, period: regular, ...terms });
}

const fairTotals: readonly {
  name: string;
  bill: Partial<BillAsRead>;
  tasks: string[];
  totalCents: number;
}[] = [
  {
    name: 'the $700 capacitor: 89.00 + 55.20 + 30 min 60.00 + access 20.00 - 44.50',
    bill: { done: 'Replaced capacitor', chargedCents: cents(70_000) },
    tasks: ['replace_dual_run_capacitor'],
    totalCents: 17_970,
  },
  {
    name: 'the $2,000 capacitor of 35/5, whose part is cheaper: 47.70 instead of 55.20',
    bill: { done: 'replaced dual run capacitor 35/5 mfd', chargedCents: cents(200_000) },
    tasks: ['replace_dual_run_capacitor'],
    totalCents: 17_220,
  },
  {
    name: 'a capacitor of one rating: 6.90 x 3 = 20.70',
    bill: { done: 'replaced fan capacitor 5 mfd' },
    tasks: ['replace_fan_run_capacitor'],
    totalCents: 8_900 + 2_070 + 6_000 + 2_000 - 4_450,
  },
  {
    name: 'a rating that only what was found tells: 47.70 again',
    bill: { found: 'weak 35/5 capacitor', done: 'replaced capacitor' },
    tasks: ['replace_dual_run_capacitor'],
    totalCents: 17_220,
  },
  {
    name: 'a part by its own code in the book: CAP-40-5-440 costs 17.20, sells for 51.60',
    bill: {
      done: 'replaced capacitor',
      parts: [{ name: 'CAP-40-5-440', quantity: 1, chargedCents: cents(25_000) }],
    },
    tasks: ['replace_dual_run_capacitor'],
    totalCents: 8_900 + 5_160 + 6_000 + 2_000 - 4_450,
  },
  {
    name: 'a fuse by its own code in the book: DFUSE-35 costs 6.20, sells for 18.60, with the fee',
    bill: { done: 'replaced fuse', parts: [{ name: 'DFUSE-35', quantity: 1 }] },
    tasks: ['replace_disconnect_fuses'],
    totalCents: 8_900 + 1_860,
  },
  {
    name: 'a fuse of the board by its own code, though one of a disconnect is dearer',
    bill: { done: 'replaced fuse', parts: [{ name: 'FUSE-3A', quantity: 1 }] },
    tasks: ['replace_control_fuse'],
    totalCents: 8_900 + 135,
  },
  {
    name: 'a fuse that may be of either, the dearer of which is taken: 18.60',
    bill: { done: 'replaced fuse' },
    tasks: ['replace_disconnect_fuses'],
    totalCents: 8_900 + 1_860,
  },
  {
    name: 'two parts by their own codes, each to the work that takes it: 51.60 and 16.90 x 3 = 50.70',
    bill: {
      done: 'replaced capacitor and contactor',
      parts: [
        { name: 'CON-1P-30-24', quantity: 1 },
        { name: 'CAP-40-5-440', quantity: 1 },
      ],
    },
    tasks: ['replace_contactor', 'replace_dual_run_capacitor'],
    totalCents: 8_900 + 5_160 + 5_070 + 7_000 + 6_000 - 1_200 + 2_000 - 4_450,
  },
  {
    name: 'a breaker flipped: a reset is charged at its materials, so the fee alone',
    bill: { done: 'flipped breaker' },
    tasks: ['reset_breaker'],
    totalCents: 8_900,
  },
  {
    name: 'a float switch reset after the drain was cleared: 60.00 + 20.00 for the drain',
    bill: { done: 'cleared drain and reset float switch' },
    tasks: ['clear_condensate_drain', 'reset_float_switch'],
    totalCents: 8_900 + 6_000 + 2_000 - 4_450,
  },
  {
    name: 'two tasks: 20 % off the labor of the cheaper one, access once',
    bill: { done: 'replaced capacitor and contactor' },
    tasks: ['replace_contactor', 'replace_dual_run_capacitor'],
    totalCents: 8_900 + 5_520 + 7_440 + 7_000 + 6_000 - 1_200 + 2_000 - 4_450,
  },
  {
    name: 'two pounds: 310.00 for 25 lb, so 24.80, sells for 74.40; 45 min and 15 of access',
    bill: { done: 'added 2 lb R-410A' },
    tasks: ['add_refrigerant'],
    totalCents: 8_900 + 7_440 + 9_000 + 3_000 - 4_450,
  },
  {
    name: 'pounds that only the parts tell',
    bill: { done: 'added refrigerant', parts: [{ name: 'R-410A', quantity: 2 }] },
    tasks: ['add_refrigerant'],
    totalCents: 8_900 + 7_440 + 9_000 + 3_000 - 4_450,
  },
  {
    name: 'small materials are carried by the rate of the hour',
    bill: { done: 'replaced 35/5 capacitor', parts: [{ name: 'misc materials', quantity: 1 }] },
    tasks: ['replace_dual_run_capacitor'],
    totalCents: 17_220,
  },
  {
    name: 'a fuse of 3 A on the board: $0.45 x 3 = 1.35 and the fee, whatever fuses a disconnect has',
    bill: {
      found: 'Blown 3 amp fuse',
      done: 'Replaced fuse on control board',
      parts: [{ name: '3A fuse', quantity: 1 }],
    },
    tasks: ['replace_control_fuse'],
    totalCents: 8_900 + 135,
  },
  {
    name: 'a fuse that only the name of the part tells',
    bill: { done: 'Replaced fuse', parts: [{ name: '3 amp fuse', quantity: 1 }] },
    tasks: ['replace_control_fuse'],
    totalCents: 8_900 + 135,
  },
  {
    name: 'a fuse that only its place tells',
    bill: { done: 'Replaced fuse on control board', parts: [{ name: 'fuse', quantity: 1 }] },
    tasks: ['replace_control_fuse'],
    totalCents: 8_900 + 135,
  },
  {
    name: 'the $700 capacitor all in, with its warranty and its good-bye',
    bill: {
      found: 'Bad run capacitor',
      done: 'Replaced run capacitor - all in (includes 1 year warranty). System cooling on departure.',
    },
    tasks: ['replace_dual_run_capacitor'],
    totalCents: 17_970,
  },
  {
    name: 'only looked at: the fee',
    bill: { done: 'checked system, all pressures normal, customer declined' },
    tasks: [],
    totalCents: 8_900,
  },
  {
    name:
      'a compressor covers its filter drier and its charge, paid once: 920.00 of compressor ' +
      '75.00 + 165.00 + 510.00 + 728.00, 24.50 of drier 73.50, 6 lb at 74.40 cost, 183.68',
    bill: { done: 'replaced compressor, replaced filter drier, added 6 lb R-410A' },
    tasks: ['replace_compressor'],
    totalCents: 8_900 + 147_800 + 7_350 + 18_368 + 66_000 + 3_000 - 4_450,
  },
];

describe('the fair price of what a bill says was done', () => {
  it.each(fairTotals)('$name', ({ bill, tasks, totalCents }) => {
    const { fair, notPriced } = factsOf(bill).bill ?? {};
    expect(notPriced ?? []).toEqual([]);
    expect(fair?.option.totalCents).toBe(totalCents);
    expect([...(fair?.taskCodes ?? [])].sort()).toEqual(tasks);
    // Before tax, because these bills say that there was none.
    expect(fair?.option.taxCents).toBe(0);
  });

  it('has our tax in it where the bill does not tell its own apart: 55.20 x 8.25 % = 4.55', () => {
    const { taxCents: _, ...untold } = plainBill;
    const facts = billFactsOf(
      { ...untold, done: 'Replaced capacitor' },
      { book, period: regular, tax: texas },
    );
    expect(facts.bill?.fair?.option.totalCents).toBe(17_970 + 455);
    expect(facts.bill?.fair?.choices).toContain(
      'The bill does not tell its tax apart, so the sales tax of Pecan County is in the fair price.',
    );
    const none = factsOf({ done: 'Replaced capacitor' }, { tax: texas });
    expect(none.bill?.fair?.option.totalCents).toBe(17_970);
  });

  it('has our tax in it where the bill tells its own, too, so that all stands beside all', () => {
    const bill = { done: 'Replaced 45/5 capacitor', taxCents: cents(4_000) };
    const told = factsOf(bill, { tax: texas });
    expect(told.bill?.fair?.option.totalCents).toBe(17_970 + 455);
    expect(told.bill?.fair?.choices).toEqual([]);
  });

  it('gives whoever billed the dearer part where the bill leaves a choice, and says so', () => {
    expect(factsOf({ done: 'Replaced capacitor' }).bill?.fair?.choices).toEqual([
      'The bill leaves open which task it was: of those it may have been, the dearest is taken, “Replace the dual run capacitor”.',
      'The bill leaves open which part it was: of 3 that fit, the dearest is taken, “Dual run capacitor 45/5 µF, 440 V”.',
    ]);
    expect(factsOf({ done: 'replaced 45/5 capacitor' }).bill?.fair?.choices).toEqual([]);
  });

  it('says that putting back what tripped is a reset', () => {
    expect(factsOf({ done: 'flipped breaker' }).bill?.fair?.choices).toEqual([
      '“Reset the breaker” is a reset: it is charged at its materials alone.',
    ]);
  });

  it('says what the reset comes to that was all that was found, with our tax where it is untold', () => {
    const bill = { found: 'Blown 3 amp fuse', done: 'Replaced transformer' };
    expect(factsOf(bill, { tax: texas }).bill?.foundReset?.resetCents).toBe(8_900 + 135);
    // 1.35 x 8.25 % = 0.11.
    const { taxCents: _, ...untold } = plainBill;
    const terms = { book, period: regular, tax: texas };
    const facts = billFactsOf({ ...untold, ...bill }, terms);
    expect(facts.bill?.foundReset?.resetCents).toBe(8_900 + 135 + 11);
  });

  it('is priced after hours where somebody came after hours', () => {
    const facts = billFactsOf(
      { ...plainBill, done: 'cleared drain' },
      { book, period: { code: 'after_hours', laborFactor: '1.5', visitFeeCents: 12_900 } },
    );
    // 129.00 + 90.00 + 30.00 - 64.50
    expect(facts.bill?.fair?.option.totalCents).toBe(18_450);
  });

  it('is the dearest of our hours where nobody knows when somebody came, and says so', () => {
    const night = { code: 'after_hours', laborFactor: '1.5', visitFeeCents: 12_900 };
    const unknown = billFactsOf(
      { ...plainBill, done: 'cleared drain' },
      { book, period: regular, orPeriods: [night] },
    );
    // 129.00 + 90.00 + 30.00 - 64.50, so that a bill of the night is no dearer than it may be.
    expect(unknown.bill?.fair?.option.totalCents).toBe(18_450);
    expect(unknown.bill?.fair?.choices).toEqual([
      'The bill does not say when somebody came, so the dearest of our hours are taken: after hours. In the cheapest it comes to $124.50.',
    ]);
    // 89.00 + 60.00 + 20.00 - 44.50
    expect(unknown.bill?.fair?.fromCents).toBe(12_450);
    // Whichever way round: of a look the fee alone decides, and there the other hours are dearer.
    const dearFee = { code: 'weekend', laborFactor: '1', visitFeeCents: 9_900 };
    const looked = billFactsOf(
      { ...plainBill, done: 'checked system' },
      { book, period: { ...night, visitFeeCents: 8_900 }, orPeriods: [dearFee] },
    );
    expect(looked.bill?.fair?.option.totalCents).toBe(9_900);
    expect(looked.bill?.fair?.fromCents).toBe(8_900);
  });

  it.each([
    ['replaced flux capacitor', [], 'Not understood: “replaced flux capacitor”.'],
    ['', [], 'The bill does not say what was done.'],
    ['added refrigerant', [], 'The bill does not say how many pounds of refrigerant went in.'],
    [
      'replaced 60/5 capacitor',
      [],
      'The price book has no part that fits “Replace the dual run capacitor”.',
    ],
    [
      'replaced capacitor',
      [{ name: 'Contactor', quantity: 1 }],
      'The bill names “Contactor” among its parts, and no work with it.',
    ],
    [
      'replaced capacitor',
      [{ name: 'wibble', quantity: 1 }],
      'Not understood among the parts: “wibble”.',
    ],
    [
      'replaced capacitor',
      [{ name: '45/5 capacitor', quantity: 2 }],
      'The bill names 2 of “45/5 capacitor”, and work with one.',
    ],
    [
      'replaced capacitor',
      [{ name: 'CON-1P-30-24', quantity: 1 }],
      'The bill names “CON-1P-30-24” among its parts, and no work with it.',
    ],
    [
      'replaced fuse',
      [{ name: 'DFUSE-35', quantity: 2 }],
      'The bill names 2 of “DFUSE-35”, and work with one.',
    ],
  ])('is not there where something is not understood: %s %j', (done, parts, reason) => {
    const { bill } = factsOf({ done, parts });
    expect(bill?.fair).toBeUndefined();
    expect(bill?.notPriced).toEqual([reason]);
  });

  it('is the same where bills before it said the same', () => {
    const priced = new Map<string, FairAnswer>();
    const bill = { ...plainBill, done: 'Replaced capacitor' };
    const first = billFactsOf(bill, { book, period: regular, priced });
    const again = billFactsOf({ ...bill, billId: 'bill-2' }, { book, period: regular, priced });
    expect(again.bill).toEqual(first.bill);
    expect(priced.size).toBe(1);
    const late = { ...regular, laborFactor: '1.5' };
    const after = billFactsOf(bill, { book, period: late, priced });
    expect(after.bill?.fair?.option.totalCents).toBe(17_970 + 4_000);
  });

  it('is stored with all it was computed from', () => {
    const fair = factsOf({ done: 'Replaced capacitor' }).bill?.fair;
    expect(fair?.price).toMatchObject({ rulesetVersion: 'pricing-1', optionAt: 0 });
    expect(fair?.price.inputs.options[0]?.work).toMatchObject([
      { taskCode: 'replace_dual_run_capacitor', remedyClass: 'replace', minutes: 30 },
    ]);
  });
});

describe('the charges of a bill', () => {
  it('are one lump where it is one sum', () => {
    const facts = factsOf({ done: 'Replaced capacitor' });
    expect(facts).toMatchObject({
      ended: 'billed',
      documents: [
        {
          invoiceId: 'bill-1',
          kind: 'bill',
          title: 'the bill of July 3, 2025',
          quoteId: null,
          credited: [],
          taxLeftCents: 0,
          lines: [
            { key: 'lump', kind: 'lump', amountCents: 70_000, aimedAt: null },
            { key: 'tax', kind: 'tax', amountCents: 0 },
          ],
        },
      ],
    });
    // What no bill of another time tells is not known.
    for (const group of ['findings', 'visits', 'work', 'earlierRepairs', 'refrigerant'] as const) {
      expect(facts[group]).toBeUndefined();
    }
  });

  it('are told apart as far as the bill does, and the rest is a lump', () => {
    const facts = factsOf({
      done: 'replaced capacitor and contactor',
      feeCents: cents(8_900),
      laborCents: cents(24_000),
      hours: '2',
      parts: [
        { name: 'capacitor', quantity: 1, unitCostCents: cents(1_840), chargedCents: cents(9_000) },
        { name: 'contactor', quantity: 1 },
      ],
      taxCents: cents(1_100),
      chargedCents: cents(50_000),
    });
    expect(
      facts.documents[0]?.lines.map(({ key, kind, amountCents }) => [key, kind, amountCents]),
    ).toEqual([
      ['fee', 'visit_fee', 8_900],
      ['labor', 'labor', 24_000],
      ['part:1', 'part', 9_000],
      ['lump', 'lump', 50_000 - 1_100 - 8_900 - 24_000 - 9_000],
      ['tax', 'tax', 1_100],
    ]);
    expect(facts.documents[0]?.taxLeftCents).toBe(1_100);
    expect(facts.bill).toMatchObject({
      hours: '2',
      parts: [{ name: 'capacitor' }, { name: 'contactor' }],
    });
  });

  it('have no lump where everything is told', () => {
    const facts = factsOf({
      feeCents: cents(8_900),
      laborCents: cents(24_000),
      taxCents: cents(0),
      chargedCents: cents(32_900),
    });
    expect(facts.documents[0]?.lines.map(({ kind }) => kind)).toEqual([
      'visit_fee',
      'labor',
      'tax',
    ]);
  });

  it('keep the hours that were charged beside those of the clock', () => {
    const facts = factsOf({ done: 'cleared drain', hours: '3', clockMinutes: 75 });
    expect(facts.bill).toMatchObject({ hours: '3', clockMinutes: 75 });
    expect(factsOf({}).bill).not.toHaveProperty('clockMinutes');
  });

  it('never come to less than what they are told apart into', () => {
    expect(() => factsOf({ feeCents: cents(70_001) })).toThrow('comes to less than its parts');
  });

  it('come to what was charged, to the cent, however it is told apart', () => {
    const amount = fc.option(fc.integer({ min: 0, max: 100_000 }), { nil: undefined });
    const split = fc.record({ fee: amount, labor: amount, tax: amount, part: amount });
    fc.assert(
      fc.property(split, fc.integer({ min: 0, max: 100_000 }), (told, rest) => {
        const { taxCents: _, ...untold } = plainBill;
        const sum = Object.values(told).reduce<number>((all, each) => all + (each ?? 0), 0);
        const facts = billFactsOf(
          {
            ...untold,
            ...(told.fee !== undefined && { feeCents: cents(told.fee) }),
            ...(told.labor !== undefined && { laborCents: cents(told.labor) }),
            ...(told.tax !== undefined && { taxCents: cents(told.tax) }),
            parts: [
              {
                name: 'wibble',
                quantity: 1,
                ...(told.part !== undefined && { chargedCents: cents(told.part) }),
              },
            ],
            chargedCents: cents(sum + rest),
          },
          { book, period: regular },
        );
        const lines = facts.documents[0]?.lines ?? [];
        expect(lines.reduce((all, { amountCents }) => all + amountCents, 0)).toBe(sum + rest);
        expect(new Set(lines.map(({ key }) => key)).size).toBe(lines.length);
        expect(lines.every(({ amountCents }) => amountCents >= 0)).toBe(true);
      }),
    );
  });
});
