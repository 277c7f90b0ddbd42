import type { HandGood, HandInputs, HandOptionInput, HandPart } from './hand-inputs.ts';
import {
  capacitorWork,
  chargeWork,
  contactorWork,
  type HandWorkedLines,
  refrigerant,
  repairOf,
  workedInvoice,
  workedTiers,
} from './hand-worked.ts';

const capacitor = 'finding-capacitor:replace_run_capacitor';
const part = `part:${capacitor}:capacitor_45_5`;
const labor = `labor:${capacitor}`;

/**
 * Tax classes, and lump sums that have to be stated separately above a share of goods. The share
 * of 10 %: California Regulation 1546(b)(1), parts are taxed when they are more than 10 % of the
 * total charge or stated separately. Fee 89.00 and 1.75 h x 151.00 = 264.25 make 353.25 beside
 * parts at 2.5 times their cost; 7.25 % is California's own rate without districts, from memory.
 */
export const handWorkedTaxes: HandWorkedLines[] = [
  {
    //     12.00 x 2.5 = 30.00 of 383.25 is 7.8 %
    name: 'parts of 30.00 in 383.25, below 10 %: one sum without tax',
    inputs: californian(1200),
    expected: {
      declineTotalCents: 8900,
      amounts: { visit_fee: 8900, [part]: 3000, [labor]: 26425, tax: 0 },
      stated: 'lump_sum',
      taxCents: 0,
      totalCents: 38325,
    },
  },
  {
    //     15.70 x 2.5 = 39.25 of 392.50 is 10 % exactly, which is not more than 10 %.
    // The credit of the fee comes after: 39.25 of 303.50 would be 12.9 %.
    name: 'parts of 39.25 in 392.50, exactly 10 %: one sum, whatever of the fee is credited',
    inputs: {
      ...californian(1570),
      policy: { ...workedInvoice({}).policy, visitFeeCreditShare: '1' },
    },
    expected: {
      declineTotalCents: 8900,
      amounts: {
        visit_fee: 8900,
        'credit:visit_fee': -8900,
        [part]: 3925,
        [labor]: 26425,
        tax: 0,
      },
      stated: 'lump_sum',
      taxCents: 0,
      totalCents: 30350,
    },
  },
  {
    //     15.71 x 2.5 = 39.275 -> 39.28 of 392.53, where 10 % is 39.253
    //     tax 7.25 % of 39.28 = 2.8478 -> 2.85
    name: 'parts of 39.28 in 392.53, a cent above 10 %: separated and taxed',
    inputs: californian(1571),
    expected: {
      declineTotalCents: 8900,
      amounts: { visit_fee: 8900, [part]: 3928, [labor]: 26425, tax: 285 },
      stated: 'separated',
      taxCents: 285,
      totalCents: 39538,
    },
  },
  {
    //     39.28 - 3.93 (3.928) = 35.35 of 388.60 is 9.1 %
    name: 'the same parts with 10 % off by an agreement: below 10 % again',
    inputs: {
      ...californian(1571),
      agreement: { code: 'yearly', name: 'Yearly care', discounts: { part: '0.1' } },
    },
    expected: {
      declineTotalCents: 8900,
      amounts: {
        visit_fee: 8900,
        [part]: 3928,
        [`discount:${part}:agreement`]: -393,
        [labor]: 26425,
        tax: 0,
      },
      stated: 'lump_sum',
      taxCents: 0,
      totalCents: 38860,
    },
  },
  {
    //     30.00 and 9.26 that the owner adds: 39.26 of 392.51, where 10 % is 39.251
    //     tax 7.25 % of 39.26 = 2.84635 -> 2.85
    name: 'the parts of 30.00 raised to 39.26 by the owner: above 10 %, adjustments count',
    inputs: californian(1200, [
      { aimedAt: part, amountCents: 926, reason: 'Fetched by night', byOwner: true },
    ]),
    expected: {
      declineTotalCents: 8900,
      amounts: {
        visit_fee: 8900,
        [part]: 3000,
        [`adjustment:${part}`]: 926,
        [labor]: 26425,
        tax: 285,
      },
      stated: 'separated',
      taxCents: 285,
      totalCents: 39536,
    },
  },
  {
    //     30.00 and half a pack of 8.00, 4.00 x 2.5 = 10.00: 40.00 of 393.25 is 10.2 %
    //     tax 7.25 % of 40.00 = 2.90
    name: 'parts of 30.00 and material of 10.00: together above 10 %, both taxed',
    inputs: californian(
      1200,
      [],
      [refrigerant(800, { code: 'strips', quantity: '0.5', packQuantity: '1' })],
    ),
    expected: {
      declineTotalCents: 8900,
      amounts: {
        visit_fee: 8900,
        [part]: 3000,
        [`good:${capacitor}:strips`]: 1000,
        [labor]: 26425,
        tax: 290,
      },
      stated: 'separated',
      taxCents: 290,
      totalCents: 39615,
    },
  },
  {
    // Only equipment is taxed, at 8.25 %; tiers as brackets.
    //     fee                                       89.00
    //     a unit of 1,200.00: 750.00 + 800.00 x 1.4        1,870.00
    //     refrigerant 43.8718, see the goods                 116.52
    //     a capacitor 18.40 x 3.0                             55.20
    //     labor 4 h x 151.00                                 604.00
    //                                                      2,734.72
    //     tax 8.25 % of 1,870.00 = 154.275                   154.28
    name: 'equipment is taxed, material and parts are not',
    inputs: {
      ...workedInvoice({ rate: '0.0825', taxableClasses: ['equipment'] }),
      tiers: { mode: 'progressive', steps: workedTiers },
      options: repairOf([
        capacitorWork({
          minutes: 240,
          parts: [...capacitorWork().parts, condenser()],
          goods: [refrigerant(31337)],
        }),
      ]),
    },
    expected: {
      declineTotalCents: 8900,
      amounts: {
        visit_fee: 8900,
        [part]: 5520,
        [`part:${capacitor}:condenser`]: 187000,
        [`good:${capacitor}:refrigerant`]: 11652,
        [labor]: 60400,
        tax: 15428,
      },
      stated: 'separated',
      taxCents: 15428,
      totalCents: 288900,
    },
  },
];

/**
 * What the company owes on what it used up under a lump sum. Source of the pattern: 34 TAC 3.291,
 * a contractor under a lump sum pays tax on materials and charges none.
 */
export const handWorkedUseTaxes: {
  name: string;
  option: HandOptionInput;
  tax: HandInputs['tax'];
  cents: number;
}[] = [
  {
    name: 'capacitor 18.40 and contactor 21.75: 8.25 % of 40.15 = 3.312375 -> 3.31',
    option: optionOf([capacitorWork(), contactorWork()]),
    tax: workedInvoice({ rate: '0.0825', mode: 'lump_sum' }).tax,
    cents: 331,
  },
  {
    // 18.40 + 43.8718 = 62.2718, rounded once at the end.
    name: 'with 3.5 lb of refrigerant: 8.25 % of 62.2718 = 5.1374235 -> 5.14',
    option: optionOf([capacitorWork(), chargeWork([refrigerant(31337)])]),
    tax: workedInvoice({ rate: '0.0825', mode: 'lump_sum' }).tax,
    cents: 514,
  },
  {
    // 5.03 x 8.25 % would be 0.414975 -> 0.41.
    name: 'a foot of 33 at 166.00: 8.25 % of 5.0303... = 0.415 -> 0.42, the cost is not rounded',
    option: optionOf([chargeWork([aFootOf33()])]),
    tax: workedInvoice({ rate: '0.0825', mode: 'lump_sum' }).tax,
    cents: 42,
  },
  {
    // Line by line it would be 1.52 + 0.42 = 1.94.
    name: 'the same with a capacitor, rounded once: 1.518 + 0.415 = 1.933 -> 1.93',
    option: optionOf([capacitorWork(), chargeWork([aFootOf33()])]),
    tax: workedInvoice({ rate: '0.0825', mode: 'lump_sum' }).tax,
    cents: 193,
  },
  {
    name: 'two pieces in a recall cost the company as ever: 8.25 % of 36.80 = 3.036 -> 3.04',
    option: optionOf([
      capacitorWork({
        recall: true,
        parts: capacitorWork().parts.map((one) => ({ ...one, quantity: 2 })),
      }),
    ]),
    tax: workedInvoice({ rate: '0.0825', mode: 'lump_sum' }).tax,
    cents: 304,
  },
  {
    name: 'a part the manufacturer replaces costs nothing, and advice uses nothing up',
    option: optionOf([
      capacitorWork({
        parts: capacitorWork().parts.map((one) => ({ ...one, underManufacturerWarranty: true })),
      }),
      contactorWork({ remedyClass: 'advise' }),
    ]),
    tax: workedInvoice({ rate: '0.0825', mode: 'lump_sum' }).tax,
    cents: 0,
  },
  {
    name: 'none where the customer is charged the tax',
    option: optionOf([capacitorWork(), contactorWork()]),
    tax: workedInvoice({ rate: '0.0825', mode: 'separated' }).tax,
    cents: 0,
  },
];

function aFootOf33(): HandGood {
  return refrigerant(16600, { unit: '[ft_i]', quantity: '1', packQuantity: '33' });
}

function optionOf(work: HandOptionInput['work']): HandOptionInput {
  return { title: 'Repair', work, adjustments: [] };
}

function condenser(): HandPart {
  return {
    code: 'condenser',
    name: 'Condensing unit 3 ton',
    unitCostCents: 120000,
    quantity: 1,
    underManufacturerWarranty: false,
    taxClass: 'equipment',
  };
}

/** Lump sum, separated above 10 %; 1.75 h for one part at 2.5 times its cost. */
function californian(
  unitCostCents: number,
  adjustments: HandOptionInput['adjustments'] = [],
  goods: HandOptionInput['work'][number]['goods'] = [],
): HandInputs {
  const parts = capacitorWork().parts.map((one) => ({ ...one, unitCostCents }));
  return {
    ...workedInvoice({
      rate: '0.0725',
      taxableClasses: ['part', 'material', 'equipment'],
      mode: 'lump_sum',
      separateAboveShare: '0.10',
    }),
    tiers: { mode: 'progressive', steps: [{ upToCents: null, factor: '2.5' }] },
    options: repairOf([capacitorWork({ minutes: 105, parts, goods })], adjustments),
  };
}
