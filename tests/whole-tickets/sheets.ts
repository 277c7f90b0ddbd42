/*
 * Ten whole tickets worked out with a pencil: from the rules of the trade's price and from the
 * figures of the invented price book, never from the program. Amounts are integer cents.
 *
 * THE LABOR RATE, from the book's figures
 *   wages            32.00 x 2,080 paid hours                            66,560.00
 *   Social Security and Medicare   7.65 % of 66,560.00                    5,091.84
 *   federal unemployment           0.6 % of the first 7,000.00               42.00
 *   state unemployment             2.7 % of the first 9,000.00              243.00
 *   workers' compensation          6 % of 66,560.00                       3,993.60
 *   health insurance                                                      5,400.00
 *   burdened wage                                                        81,330.44
 *   truck of one technician                                              14,000.00
 *   overhead         210,000.00 / 4 technicians                          52,500.00
 *   a year costs                                                        147,830.44
 *   billable hours   1,920 x 0.6                                          1,152
 *   cost of an hour  147,830.44 / 1,152                                     128.325034...
 *   rate             128.325034... / (1 - 0.15) = 150.970629...             150.97
 *
 * LABOR AND ACCESS in regular hours, minutes / 60 x 150.97
 *    10 min   25.1616...   25.16        35 min    88.0658...   88.07
 *    15 min   37.7425      37.74       330 min   830.335      830.34
 *    30 min   75.485       75.49
 *
 * LABOR AND ACCESS after hours, minutes / 60 x 150.97 x 1.5
 *    10 min   37.7425      37.74        30 min   113.2275     113.23
 *    15 min   56.61375     56.61        45 min   169.84125    169.84
 *
 * PARTS: up to 25.00 of cost x 3, from there to 100.00 x 2.2, from there to 400.00 x 1.7, above x 1.4
 *   dual capacitor    18.40 x 3                                              55.20
 *   contactor         21.75 x 3                                              65.25
 *   control fuse       0.45 x 3                                               1.35
 *   compressor       685.00 = 25 x 3 + 75 x 2.2 + 300 x 1.7 + 285 x 1.4
 *                    75.00 + 165.00 + 510.00 + 399.00                     1,149.00
 *   refrigerant      2.25 lb x 310.00 / 25 lb = 27.90 = 25 x 3 + 2.90 x 2.2
 *                    75.00 + 6.38                                            81.38
 *
 * SECOND TASK: 20 % off the labor of every task but the dearest of the visit
 *   20 % of  75.49 = 15.098   15.10
 *   20 % of 113.23 = 22.646   22.65
 *
 * FEE: 89.00 in regular hours, 129.00 otherwise; half of it is credited when the customer says yes,
 * never more than labor and access after discounts: 44.50 and 64.50 in every sheet below.
 *
 * What costs nothing has no row: whether a paper prints it at 0.00 with its reason is not for a
 * pencil to say.
 */

export interface SheetLine {
  readonly kind: 'visit_fee' | 'part' | 'good' | 'labor' | 'access' | 'discount' | 'credit';
  readonly class: 'visit_fee' | 'part' | 'labor' | 'access';
  readonly amountCents: number;
}

/** One paper that the customer owes for: its lines, its tax and its total. */
export interface SheetDocument {
  readonly kind: 'accepted' | 'visit_fee';
  readonly lines: readonly SheetLine[];
  readonly taxCents: number;
  readonly totalCents: number;
}

/** Money that moves, and what the customer owes after it; below zero, what the company owes. */
export type MoneyStep =
  | {
      readonly step: 'payment';
      readonly method: 'cash' | 'check' | 'card';
      readonly amountCents: number;
      readonly balanceCents: number;
    }
  | {
      readonly step: 'credit_memo';
      /** The line that is credited, by its kind and amount; then how much of it. */
      readonly line: SheetLine;
      readonly creditCents: number;
      readonly taxCents: number;
      readonly totalCents: number;
      readonly balanceCents: number;
    }
  | {
      readonly step: 'refund';
      readonly method: 'cash' | 'check' | 'card';
      readonly amountCents: number;
      readonly balanceCents: number;
    };

export interface Sheet {
  /** The quote before the customer's answer, where it is not what is billed in the end. */
  readonly offered?: SheetDocument;
  /** What the invoice carries, the first paper first. */
  readonly documents: readonly SheetDocument[];
  readonly invoiceTotalCents: number;
  readonly money: readonly MoneyStep[];
}

/** A tax rule that is not the company's usual one, where the sheet needs one. */
export interface SheetTax {
  readonly rate: string;
  readonly taxableClasses: readonly string[];
  readonly mode: 'separated' | 'lump_sum';
  readonly basis: 'item' | 'invoice';
}

const fee: SheetLine = { kind: 'visit_fee', class: 'visit_fee', amountCents: 8_900 };
const feeCredit: SheetLine = { kind: 'credit', class: 'visit_fee', amountCents: -4_450 };
const sundayFee: SheetLine = { kind: 'visit_fee', class: 'visit_fee', amountCents: 12_900 };
const sundayFeeCredit: SheetLine = { kind: 'credit', class: 'visit_fee', amountCents: -6_450 };

/*
 * 1. SEVERAL FAULTS of one system: dual capacitor 30 min and contactor 35 min, both behind the
 * outdoor cabinet (10 min); plugged drain 30 min, behind the indoor cabinet (10 min).
 *   visit fee                                             89.00
 *   credited for the yes, half of 89.00                  -44.50
 *   capacitor                                             55.20
 *   contactor                                             65.25
 *   labor, contactor 35 min: the dearest, whole           88.07
 *   labor, capacitor 30 min                               75.49
 *     second task, 20 %                                  -15.10
 *   labor, drain 30 min                                   75.49
 *     second task, 20 %                                  -15.10
 *   access outdoors, once for both                        25.16
 *   access indoors                                        25.16
 *                                                        424.12
 *   tax 8.25 % of 55.20 + 65.25 = 120.45: 9.937125         9.94
 *                                                        434.06
 */
const threeFaults: SheetDocument = {
  kind: 'accepted',
  lines: [
    fee,
    feeCredit,
    { kind: 'part', class: 'part', amountCents: 5_520 },
    { kind: 'part', class: 'part', amountCents: 6_525 },
    { kind: 'labor', class: 'labor', amountCents: 8_807 },
    { kind: 'labor', class: 'labor', amountCents: 7_549 },
    { kind: 'discount', class: 'labor', amountCents: -1_510 },
    { kind: 'labor', class: 'labor', amountCents: 7_549 },
    { kind: 'discount', class: 'labor', amountCents: -1_510 },
    { kind: 'access', class: 'access', amountCents: 2_516 },
    { kind: 'access', class: 'access', amountCents: 2_516 },
  ],
  taxCents: 994,
  totalCents: 43_406,
};

export const severalFaults: Sheet = {
  documents: [threeFaults],
  invoiceTotalCents: 43_406,
  money: [{ step: 'payment', method: 'card', amountCents: 43_406, balanceCents: 0 }],
};

/*
 * 2. A PARTIAL YES: the three faults of sheet 1 are offered at 434.06; the customer wants the
 * contactor and the drain, not the capacitor.
 *   visit fee                                             89.00
 *   credited for the yes                                 -44.50
 *   contactor                                             65.25
 *   labor, contactor 35 min: the dearest, whole           88.07
 *   labor, drain 30 min                                   75.49
 *     second task, 20 %                                  -15.10
 *   access outdoors                                       25.16
 *   access indoors                                        25.16
 *                                                        308.53
 *   tax 8.25 % of 65.25: 5.383125                          5.38
 *                                                        313.91
 */
export const partialYes: Sheet = {
  offered: threeFaults,
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'part', class: 'part', amountCents: 6_525 },
        { kind: 'labor', class: 'labor', amountCents: 8_807 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'discount', class: 'labor', amountCents: -1_510 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 538,
      totalCents: 31_391,
    },
  ],
  invoiceTotalCents: 31_391,
  money: [{ step: 'payment', method: 'check', amountCents: 31_391, balanceCents: 0 }],
};

/*
 * 3. A NO, where everything is taxed at 7.25 %, once for the paper. Offered:
 *   visit fee less its credit   89.00 - 44.50             44.50
 *   capacitor                                             55.20
 *   labor, capacitor 30 min                               75.49
 *   access outdoors                                       25.16
 *                                                        200.35
 *   tax 7.25 % of 200.35: 14.525375                       14.53
 *                                                        214.88
 * Billed after the no, the whole fee and nothing else:
 *   visit fee                                             89.00
 *   tax 7.25 % of 89.00: 6.4525                            6.45
 *                                                         95.45
 */
export const declinedTax: SheetTax = {
  rate: '0.0725',
  taxableClasses: ['visit_fee', 'part', 'material', 'equipment', 'labor', 'access'],
  mode: 'separated',
  basis: 'invoice',
};

export const declined: Sheet = {
  offered: {
    kind: 'accepted',
    lines: [
      fee,
      feeCredit,
      { kind: 'part', class: 'part', amountCents: 5_520 },
      { kind: 'labor', class: 'labor', amountCents: 7_549 },
      { kind: 'access', class: 'access', amountCents: 2_516 },
    ],
    taxCents: 1_453,
    totalCents: 21_488,
  },
  documents: [{ kind: 'visit_fee', lines: [fee], taxCents: 645, totalCents: 9_545 }],
  invoiceTotalCents: 9_545,
  money: [{ step: 'payment', method: 'check', amountCents: 9_545, balanceCents: 0 }],
};

/*
 * 4. TWO SYSTEMS of one house, a dual capacitor each: access is paid once per system, so twice.
 * Parts are taxed at 8.25 % line by line.
 *   visit fee                                             89.00
 *   credited for the yes                                 -44.50
 *   capacitor, first system                               55.20
 *   capacitor, second system                              55.20
 *   labor 30 min: one of two equal ones stays whole       75.49
 *   labor 30 min                                          75.49
 *     second task, 20 %                                  -15.10
 *   access outdoors, first system                         25.16
 *   access outdoors, second system                        25.16
 *                                                        341.10
 *   tax 8.25 % of 55.20: 4.554, so 4.55, twice             9.10
 *                                                        350.20
 * (Once for the paper it would have been 8.25 % of 110.40: 9.108, so 9.11.)
 */
export const twoSystemsTax: SheetTax = {
  rate: '0.0825',
  taxableClasses: ['part', 'material', 'equipment'],
  mode: 'separated',
  basis: 'item',
};

export const twoSystems: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'part', class: 'part', amountCents: 5_520 },
        { kind: 'part', class: 'part', amountCents: 5_520 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'discount', class: 'labor', amountCents: -1_510 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 910,
      totalCents: 35_020,
    },
  ],
  invoiceTotalCents: 35_020,
  money: [{ step: 'payment', method: 'card', amountCents: 35_020, balanceCents: 0 }],
};

/*
 * 5. A RECALL. In July a capacitor:
 *   visit fee less its credit   89.00 - 44.50             44.50
 *   capacitor                                             55.20
 *   labor, capacitor 30 min                               75.49
 *   access outdoors                                       25.16
 *                                                        200.35
 *   tax 8.25 % of 55.20: 4.554                             4.55
 *                                                        204.90
 * Ten days later the same fault of the same system is back: part, labor and access at nothing, and
 * no fee for the trip. The second invoice comes to 0.00 and nothing is owed.
 */
export const beforeRecall: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'part', class: 'part', amountCents: 5_520 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 455,
      totalCents: 20_490,
    },
  ],
  invoiceTotalCents: 20_490,
  money: [{ step: 'payment', method: 'cash', amountCents: 20_490, balanceCents: 0 }],
};

export const recall: Sheet = {
  documents: [{ kind: 'accepted', lines: [], taxCents: 0, totalCents: 0 }],
  invoiceTotalCents: 0,
  money: [],
};

/*
 * 6. AFTER HOURS, a Sunday afternoon: labor and access at one and a half, parts and goods as always.
 * Low charge 45 min, 2.25 lb, gauges on and off 15 min; plugged drain 30 min, indoors 10 min.
 *   visit fee of a Sunday                                129.00
 *   credited for the yes, half of 129.00                 -64.50
 *   refrigerant 2.25 lb                                   81.38
 *   labor, low charge 45 min x 1.5: the dearest          169.84
 *   labor, drain 30 min x 1.5                            113.23
 *     second task, 20 % of 113.23                        -22.65
 *   access to the circuit 15 min x 1.5                    56.61
 *   access indoors 10 min x 1.5                           37.74
 *                                                        500.65
 *   tax 8.25 % of 81.38: 6.71385                           6.71
 *                                                        507.36
 */
export const afterHours: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        sundayFee,
        sundayFeeCredit,
        { kind: 'good', class: 'part', amountCents: 8_138 },
        { kind: 'labor', class: 'labor', amountCents: 16_984 },
        { kind: 'labor', class: 'labor', amountCents: 11_323 },
        { kind: 'discount', class: 'labor', amountCents: -2_265 },
        { kind: 'access', class: 'access', amountCents: 5_661 },
        { kind: 'access', class: 'access', amountCents: 3_774 },
      ],
      taxCents: 671,
      totalCents: 50_736,
    },
  ],
  invoiceTotalCents: 50_736,
  money: [{ step: 'payment', method: 'card', amountCents: 50_736, balanceCents: 0 }],
};

/*
 * 7. CASH IN PARTS: a capacitor, and a control fuse replaced. The fuse is a reset: its material
 * alone, neither labor nor access.
 *   visit fee less its credit   89.00 - 44.50             44.50
 *   capacitor                                             55.20
 *   control fuse                                           1.35
 *   labor, capacitor 30 min                               75.49
 *   access outdoors                                       25.16
 *                                                        201.70
 *   tax 8.25 % of 55.20 + 1.35 = 56.55: 4.665375           4.67
 *                                                        206.37
 *   cash 100.00   owed 106.37
 *   cash  60.00   owed  46.37
 *   cash  46.37   owed   0.00
 */
export const cashInParts: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'part', class: 'part', amountCents: 5_520 },
        { kind: 'part', class: 'part', amountCents: 135 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 467,
      totalCents: 20_637,
    },
  ],
  invoiceTotalCents: 20_637,
  money: [
    { step: 'payment', method: 'cash', amountCents: 10_000, balanceCents: 10_637 },
    { step: 'payment', method: 'cash', amountCents: 6_000, balanceCents: 4_637 },
    { step: 'payment', method: 'cash', amountCents: 4_637, balanceCents: 0 },
  ],
};

/*
 * 8. A LUMP SUM, where the company pays the tax on its materials itself and the customer none:
 * a compressor, 330 min, gauges on and off 15 min.
 *   visit fee less its credit   89.00 - 44.50             44.50
 *   compressor                                         1,149.00
 *   labor, compressor 330 min                            830.34
 *   access to the circuit 15 min                          37.74
 *                                                      2,061.58
 *   tax                                                    0.00
 *                                                      2,061.58
 *   check 1,000.00   owed 1,061.58
 *   check 1,061.58   owed     0.00
 */
export const lumpSumTax: SheetTax = {
  rate: '0.0825',
  taxableClasses: ['part', 'material', 'equipment'],
  mode: 'lump_sum',
  basis: 'invoice',
};

export const lumpSum: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'part', class: 'part', amountCents: 114_900 },
        { kind: 'labor', class: 'labor', amountCents: 83_034 },
        { kind: 'access', class: 'access', amountCents: 3_774 },
      ],
      taxCents: 0,
      totalCents: 206_158,
    },
  ],
  invoiceTotalCents: 206_158,
  money: [
    { step: 'payment', method: 'check', amountCents: 100_000, balanceCents: 106_158 },
    { step: 'payment', method: 'check', amountCents: 106_158, balanceCents: 0 },
  ],
};

/*
 * 9. CHANGE ORDERS: the drain is accepted first; then, on the same visit, the capacitor is found and
 * accepted, and after it the contactor.
 * The quote:
 *   visit fee less its credit   89.00 - 44.50             44.50
 *   labor, drain 30 min: the only task, whole             75.49
 *   access indoors                                        25.16
 *   tax on nothing                                         0.00
 *                                                        145.15
 * The first change order; its labor is no dearer than the drain's, so that it is the second task:
 *   capacitor                                             55.20
 *   labor, capacitor 30 min                               75.49
 *     second task, 20 %                                  -15.10
 *   access outdoors                                       25.16
 *   tax 8.25 % of 55.20: 4.554                             4.55
 *                                                        145.30
 * The second change order: the contactor's labor is the dearest of the visit, so it stays whole, and
 * the drain is a second task now. Its accepted paper stands, so that its 20 % come off here. Access
 * outdoors has been paid with the capacitor.
 *   contactor                                             65.25
 *   labor, contactor 35 min                               88.07
 *     the drain is a second task now, 20 % of 75.49      -15.10
 *   tax 8.25 % of 65.25: 5.383125                          5.38
 *                                                        143.60
 * The invoice: 145.15 + 145.30 + 143.60                  434.05
 * (One paper for all of it is sheet 1 at 434.06: each accepted tax stands, 4.55 + 5.38, not 9.94.)
 */
export const changeOrders: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 0,
      totalCents: 14_515,
    },
    {
      kind: 'accepted',
      lines: [
        { kind: 'part', class: 'part', amountCents: 5_520 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'discount', class: 'labor', amountCents: -1_510 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 455,
      totalCents: 14_530,
    },
    {
      kind: 'accepted',
      lines: [
        { kind: 'part', class: 'part', amountCents: 6_525 },
        { kind: 'labor', class: 'labor', amountCents: 8_807 },
        { kind: 'discount', class: 'labor', amountCents: -1_510 },
      ],
      taxCents: 538,
      totalCents: 14_360,
    },
  ],
  invoiceTotalCents: 43_405,
  money: [{ step: 'payment', method: 'card', amountCents: 43_405, balanceCents: 0 }],
};

/*
 * 10. CREDIT MEMOS on a capacitor and a contactor:
 *   visit fee less its credit   89.00 - 44.50             44.50
 *   capacitor                                             55.20
 *   contactor                                             65.25
 *   labor, contactor 35 min: the dearest, whole           88.07
 *   labor, capacitor 30 min                               75.49
 *     second task, 20 %                                  -15.10
 *   access outdoors, once                                 25.16
 *                                                        338.57
 *   tax 8.25 % of 120.45: 9.937125                         9.94
 *                                                        348.51
 *   card 348.51                                   owed     0.00
 * The capacitor itself is credited:
 *   part                                                  55.20
 *   tax before 9.94, tax of the rest 8.25 % of 65.25: 5.38, so 9.94 - 5.38
 *                                                          4.56
 *                                                         59.76   owed  -59.76
 * (8.25 % of 55.20 alone would have been 4.55, and a cent of tax would have stayed with nobody.)
 *   back to the card 59.76                        owed     0.00
 * Then the labor of the capacitor, which after its discount is 75.49 - 15.10:
 *   labor                                                 60.39
 *   tax before 5.38, tax of the rest 5.38                  0.00
 *                                                         60.39   owed  -60.39
 *   by check 60.39                                owed     0.00
 */
export const creditMemos: Sheet = {
  documents: [
    {
      kind: 'accepted',
      lines: [
        fee,
        feeCredit,
        { kind: 'part', class: 'part', amountCents: 5_520 },
        { kind: 'part', class: 'part', amountCents: 6_525 },
        { kind: 'labor', class: 'labor', amountCents: 8_807 },
        { kind: 'labor', class: 'labor', amountCents: 7_549 },
        { kind: 'discount', class: 'labor', amountCents: -1_510 },
        { kind: 'access', class: 'access', amountCents: 2_516 },
      ],
      taxCents: 994,
      totalCents: 34_851,
    },
  ],
  invoiceTotalCents: 34_851,
  money: [
    { step: 'payment', method: 'card', amountCents: 34_851, balanceCents: 0 },
    {
      step: 'credit_memo',
      line: { kind: 'part', class: 'part', amountCents: 5_520 },
      creditCents: 5_520,
      taxCents: 456,
      totalCents: 5_976,
      balanceCents: -5_976,
    },
    { step: 'refund', method: 'card', amountCents: 5_976, balanceCents: 0 },
    {
      step: 'credit_memo',
      line: { kind: 'labor', class: 'labor', amountCents: 7_549 },
      creditCents: 6_039,
      taxCents: 0,
      totalCents: 6_039,
      balanceCents: -6_039,
    },
    { step: 'refund', method: 'check', amountCents: 6_039, balanceCents: 0 },
  ],
};
