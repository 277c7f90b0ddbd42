import type { HandGood, HandStated, HandSummedRates, HandWageRates } from './hand-inputs.ts';
import type { HandInputs, HandOptionInput, HandWork } from './price-by-hand.ts';

/**
 * Quotes worked by hand to the cent. The oracle and the engine must both reach them.
 *
 * Sources: the invoice A, A', B, C is arithmetic anyone can redo; rate and part factor are
 * illustrative. Invoice and item basis, and rounding on the third decimal: SSUTA section 324.
 * Lump sum without tax to the customer: the pattern of 34 TAC 3.291.
 */
export const handWorkedQuotes: HandWorkedQuote[] = [
  {
    name: 'A: only parts taxed at 8.25 %, on the invoice: 120.45 -> 9.937 -> 9.94',
    inputs: workedInvoice({ rate: '0.0825', taxableClasses: ['part'] }),
    expected: { declineTotalCents: 8900, subtotalCents: 38310, taxCents: 994, totalCents: 39304 },
  },
  {
    name: "A': the same, item by item: 4.554 -> 4.55 and 5.383 -> 5.38, together 9.93",
    inputs: workedInvoice({ rate: '0.0825', taxableClasses: ['part'], basis: 'item' }),
    expected: { declineTotalCents: 8900, subtotalCents: 38310, taxCents: 993, totalCents: 39303 },
  },
  {
    name: 'B: everything taxed at 8.875 %: 383.10 -> 34.000125 -> 34.00',
    inputs: workedInvoice({
      rate: '0.08875',
      taxableClasses: ['visit_fee', 'part', 'labor', 'access'],
    }),
    // Declining: 89.00 + 7.89875 -> 7.90.
    expected: { declineTotalCents: 9690, subtotalCents: 38310, taxCents: 3400, totalCents: 41710 },
  },
  {
    name: 'C: lump sum, no tax to the customer',
    inputs: workedInvoice({ rate: '0.0825', taxableClasses: ['part'], mode: 'lump_sum' }),
    expected: { declineTotalCents: 8900, subtotalCents: 38310, taxCents: 0, totalCents: 38310 },
  },
  ...[
    // Third decimal 4 stays down; rounding to three places first would give 0.08.
    { cents: 103, rate: '0.0725', taxCents: 7, says: '1.03 at 7.25 % = 0.074675 -> 0.07' },
    // Binary floating point rounds this one down to 0.07.
    { cents: 125, rate: '0.06', taxCents: 8, says: '1.25 at 6 % = 0.0750 -> 0.08' },
    // Binary floating point rounds this one down to 0.14.
    { cents: 200, rate: '0.0725', taxCents: 15, says: '2.00 at 7.25 % = 0.145 -> 0.15' },
    { cents: 12045, rate: '0.0825', taxCents: 994, says: '120.45 at 8.25 % = 9.937 -> 9.94' },
    { cents: 5520, rate: '0.0825', taxCents: 455, says: '55.20 at 8.25 % = 4.554 -> 4.55' },
    { cents: 6525, rate: '0.0825', taxCents: 538, says: '65.25 at 8.25 % = 5.383 -> 5.38' },
  ].map(({ cents, rate, taxCents, says }) => ({
    name: `tax rounding: ${says}`,
    inputs: onePart(cents, [{ upToCents: null, factor: '1' }], 'progressive', rate),
    expected: {
      declineTotalCents: 0,
      subtotalCents: cents,
      taxCents,
      totalCents: cents + taxCents,
    },
  })),
];

/** Illustrative tiers: up to $25 x3.0, to $100 x2.2, to $400 x1.7, above x1.4. */
export const workedTiers: HandInputs['tiers']['steps'] = [
  { upToCents: 2500, factor: '3.0' },
  { upToCents: 10000, factor: '2.2' },
  { upToCents: 40000, factor: '1.7' },
  { upToCents: null, factor: '1.4' },
];

/** Selling price of one part by unit cost; the boundaries are where flat tiers would invert. */
export const handWorkedParts: {
  mode: 'progressive' | 'flat';
  costCents: number;
  sellsForCents: number;
  because: string;
}[] = [
  { mode: 'flat', costCents: 1840, sellsForCents: 5520, because: '18.40 x 3.0' },
  { mode: 'flat', costCents: 2500, sellsForCents: 7500, because: '25.00 x 3.0' },
  { mode: 'flat', costCents: 2501, sellsForCents: 7500, because: '55.02 lifted to 75.00' },
  { mode: 'flat', costCents: 3410, sellsForCents: 7502, because: '34.10 x 2.2 = 75.02' },
  { mode: 'flat', costCents: 10001, sellsForCents: 22000, because: '170.02 lifted to 220.00' },
  { mode: 'flat', costCents: 40001, sellsForCents: 68000, because: '560.01 lifted to 680.00' },
  { mode: 'progressive', costCents: 1840, sellsForCents: 5520, because: '18.40 x 3.0' },
  { mode: 'progressive', costCents: 2500, sellsForCents: 7500, because: '25.00 x 3.0' },
  { mode: 'progressive', costCents: 2501, sellsForCents: 7502, because: '75.00 + 0.01 x 2.2' },
  { mode: 'progressive', costCents: 10000, sellsForCents: 24000, because: '75.00 + 75.00 x 2.2' },
  { mode: 'progressive', costCents: 40000, sellsForCents: 75000, because: '240.00 + 300 x 1.7' },
  { mode: 'progressive', costCents: 50000, sellsForCents: 89000, because: '750.00 + 100 x 1.4' },
];

/**
 * Labor rates worked by hand, first principles. The wage of the first three: $32.00 x 2080 h with
 * 7.65 % FICA, $42 FUTA, 2.7 % of $9,000, 6 % workers' compensation and $5,400 health = $81,330.44.
 * The rest shows margin against markup: 20 % margin on 100.00 is 125.00, where a 20 % markup
 * would be 120.00.
 */
export const handWorkedRates: { name: string; rates: HandInputs['rates']; rateCents: number }[] = [
  {
    name: 'wage alone at break-even: 81,330.44 / 1152 = 70.60, not 39.10 per paid hour',
    rates: workedRates({ annualTruckCents: 0, annualOverheadCents: 0, margin: '0' }),
    rateCents: 7060,
  },
  {
    name: 'break-even with truck and overhead: 128.3250 -> 128.33',
    rates: workedRates({ margin: '0' }),
    rateCents: 12833,
  },
  { name: '15 % margin: 128.3250 / 0.85 = 150.97', rates: workedRates({}), rateCents: 15097 },
  ...(
    [
      ['0.2', 12500],
      ['0.25', 13333],
      ['0.333', 14993],
      ['0.4', 16667],
      ['0.5', 20000],
      ['0.6', 25000],
    ] as const
  ).map(([margin, rateCents]) => ({
    name: `margin ${margin} on a cost of 100.00 is on price, not on cost`,
    rates: {
      annualBurdenedWageCents: 10000,
      annualAvailableHours: 1,
      billableFraction: '1',
      annualTruckCents: 0,
      annualOverheadCents: 0,
      technicianCount: 1,
      margin,
    },
    rateCents,
  })),
];

/**
 * The same wage in its components. FICA: 26 USC 3111, 6.2 % and 1.45 %. FUTA: from memory of 26 USC
 * 3301 and 3302, 6.0 % of the first $7,000 less a credit of 5.4 %. State unemployment, workers'
 * compensation and health are illustrative, no source; they differ by state and trade.
 *
 *     32.00 x 2080 h                     66,560.00
 *     FICA        7.65 % of 66,560.00     5,091.84
 *     FUTA        0.6 % of 7,000.00          42.00
 *     state       2.7 % of 9,000.00         243.00
 *     workers     6 % of 66,560.00        3,993.60
 *     health                              5,400.00
 *                                        81,330.44
 */
export const workedWage: HandWageRates['wage'] = {
  hourlyCents: 3200,
  annualPaidHours: 2080,
  burden: [
    { kind: 'share_of_wages', name: 'FICA', share: '0.0765', onWagesUpToCents: null },
    { kind: 'share_of_wages', name: 'FUTA', share: '0.006', onWagesUpToCents: 700_000 },
    { kind: 'share_of_wages', name: 'State', share: '0.027', onWagesUpToCents: 900_000 },
    { kind: 'share_of_wages', name: 'Workers', share: '0.06', onWagesUpToCents: null },
    { kind: 'yearly_amount', name: 'Health', annualCents: 540_000 },
  ],
};

/** The labor rate of the same wage given in its components. */
export const handWorkedWageRates: { name: string; rates: HandWageRates; rateCents: number }[] = [
  {
    name: 'wage 81,330.44 / 1152 h + truck 14,000 / 1152 h + 210,000 / 4608 h = 128.3250 at cost',
    rates: workedWageRates(workedWage, { margin: '0' }),
    rateCents: 12833,
  },
  {
    name: 'and 15 % margin on the price: 128.3250 / 0.85 = 150.97',
    rates: workedWageRates(workedWage, {}),
    rateCents: 15097,
  },
  {
    name: 'a whole year in one hour shows every cent of the wage: 81,330.44',
    rates: yearInOneHour(workedWage),
    rateCents: 8_133_044,
  },
  {
    // 2.00 x 2080 = 4,160.00, below 7,000.00: 0.6 % of 4,160.00 = 24.96.
    name: 'a tax on the first 7,000.00 is paid on 4,160.00 where no more is earned: 4,184.96',
    rates: yearInOneHour({
      hourlyCents: 200,
      annualPaidHours: 2080,
      burden: [{ kind: 'share_of_wages', name: 'FUTA', share: '0.006', onWagesUpToCents: 700_000 }],
    }),
    rateCents: 418_496,
  },
  {
    // 0.01 + 0.0025 + 0.0025 = 0.015 -> 0.02. Rounded one by one they would stay 0.01.
    name: 'two burdens of a quarter cent are half a cent: only the rate is rounded',
    rates: yearInOneHour({
      hourlyCents: 1,
      annualPaidHours: 1,
      burden: ['State', 'Workers'].map((name) => ({
        kind: 'share_of_wages' as const,
        name,
        share: '0.25',
        onWagesUpToCents: null,
      })),
    }),
    rateCents: 2,
  },
  {
    name: 'a tax on the first 0.00 of wages is none',
    rates: yearInOneHour({
      hourlyCents: 100,
      annualPaidHours: 1,
      burden: [{ kind: 'share_of_wages', name: 'None', share: '1', onWagesUpToCents: 0 }],
    }),
    rateCents: 100,
  },
];

export interface HandWorkedQuote {
  name: string;
  inputs: HandInputs;
  expected: {
    declineTotalCents: number;
    subtotalCents: number;
    taxCents: number;
    totalCents: number;
  };
}

/** A quote worked by hand down to each of its lines. */
export interface HandWorkedLines {
  name: string;
  inputs: HandInputs;
  expected: {
    declineTotalCents: number;
    amounts: Record<string, number>;
    stated: HandStated;
    taxCents: number;
    totalCents: number;
  };
}

/** Diagnostic 89.00, capacitor 18.40 x3.0 with 0.75 h, contactor 21.75 x3.0 with 0.50 h less 20 %. */
export function workedInvoice(tax: Partial<HandInputs['tax']>): HandInputs {
  return {
    // 210,115.04 of overhead instead of 210,000 makes the cost 128.35 and the rate exactly 151.00.
    rates: workedRates({ annualOverheadCents: 21011504 }),
    tiers: { mode: 'progressive', steps: [{ upToCents: null, factor: '3.0' }] },
    policy: {
      secondTaskDiscount: '0.20',
      visitFeeCreditShare: '0',
      fairBandTolerance: '0.10',
      causeSearchMinutes: 15,
      quoteValidityDays: 30,
    },
    period: { code: 'regular', laborFactor: '1' },
    visitFee: { chargeable: true, amountCents: 8900 },
    tax: {
      jurisdiction: 'Example County',
      name: 'Sales tax',
      rate: '0',
      taxableClasses: [],
      mode: 'separated',
      basis: 'invoice',
      ...tax,
    },
    options: [{ title: 'Repair', work: [capacitorWork(), contactorWork()], adjustments: [] }],
  };
}

export function capacitorWork(changes: Partial<HandWork> = {}): HandWork {
  return {
    findingId: 'finding-capacitor',
    faultCode: 'run_capacitor_failed',
    taskCode: 'replace_run_capacitor',
    taskName: 'Replace run capacitor',
    remedyClass: 'replace',
    systemId: 'system-1',
    minutes: 45,
    accessGroup: 'condenser_electrical',
    accessMinutes: 0,
    parts: [
      {
        code: 'capacitor_45_5',
        name: 'Run capacitor 45/5 uF 440 V',
        unitCostCents: 1840,
        quantity: 1,
        underManufacturerWarranty: false,
      },
    ],
    recall: false,
    ...changes,
  };
}

export function contactorWork(changes: Partial<HandWork> = {}): HandWork {
  return {
    findingId: 'finding-contactor',
    faultCode: 'contactor_worn',
    taskCode: 'replace_contactor',
    taskName: 'Replace contactor',
    remedyClass: 'replace',
    systemId: 'system-1',
    minutes: 30,
    accessGroup: 'condenser_electrical',
    accessMinutes: 0,
    parts: [
      {
        code: 'contactor_30a',
        name: 'Contactor 30 A, 24 V coil',
        unitCostCents: 2175,
        quantity: 1,
        underManufacturerWarranty: false,
      },
    ],
    recall: false,
    ...changes,
  };
}

export function workedRates(changes: Partial<HandSummedRates>): HandSummedRates {
  return {
    annualBurdenedWageCents: 8133044,
    annualAvailableHours: 1920,
    billableFraction: '0.60',
    annualTruckCents: 1400000,
    annualOverheadCents: 21000000,
    technicianCount: 4,
    margin: '0.15',
    ...changes,
  };
}

export function workedWageRates(
  wage: HandWageRates['wage'],
  changes: Partial<Omit<HandWageRates, 'wage'>>,
): HandWageRates {
  const { annualBurdenedWageCents: _, ...carry } = workedRates({});
  return { ...carry, ...changes, wage };
}

/** One billable hour, no truck, no overhead, no margin: the rate is the burdened wage itself. */
function yearInOneHour(wage: HandWageRates['wage']): HandWageRates {
  return workedWageRates(wage, {
    annualAvailableHours: 1,
    billableFraction: '1',
    annualTruckCents: 0,
    annualOverheadCents: 0,
    technicianCount: 1,
    margin: '0',
  });
}

/** Half an hour of charging refrigerant, without a part: 30 / 60 x 151.00 = 75.50. */
export function chargeWork(goods: HandGood[], changes: Partial<HandWork> = {}): HandWork {
  return {
    findingId: 'finding-charge',
    faultCode: 'low_charge',
    taskCode: 'charge_refrigerant',
    taskName: 'Charge refrigerant',
    remedyClass: 'repair',
    systemId: 'system-1',
    minutes: 30,
    accessGroup: 'condenser_service_ports',
    accessMinutes: 0,
    parts: [],
    goods,
    recall: false,
    ...changes,
  };
}

/** 3.5 lb out of a 25 lb pack. */
export function refrigerant(packCostCents: number, changes: Partial<HandGood> = {}): HandGood {
  return {
    code: 'refrigerant',
    name: 'Refrigerant',
    unit: '[lb_av]',
    quantity: '3.5',
    packCostCents,
    packQuantity: '25',
    taxClass: 'material',
    ...changes,
  };
}

/** One option of this work, nothing adjusted. */
export function repairOf(
  work: HandWork[],
  adjustments: HandOptionInput['adjustments'] = [],
): HandOptionInput[] {
  return [{ title: 'Repair', work, adjustments }];
}

/** A quote for one part only: no fee, no minutes. */
export function onePart(
  unitCostCents: number,
  steps: HandInputs['tiers']['steps'],
  mode: 'progressive' | 'flat',
  taxRate = '0',
): HandInputs {
  const invoice = workedInvoice({ rate: taxRate, taxableClasses: ['part'] });
  const parts = capacitorWork().parts.map((part) => ({ ...part, unitCostCents }));
  return {
    ...invoice,
    tiers: { mode, steps },
    visitFee: { chargeable: false, reason: 'Parts return' },
    options: [{ title: 'Repair', work: [capacitorWork({ minutes: 0, parts })], adjustments: [] }],
  };
}
