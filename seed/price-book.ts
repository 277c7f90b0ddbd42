import type { z } from 'zod';
import type { newPriceBookSchema } from '../src/pricebook/index.ts';
import { bookParts } from './book-parts.ts';
import { bookTasks } from './book-tasks.ts';

type Book = z.input<typeof newPriceBookSchema>;

/**
 * What an hour of labor has to carry: 32.00 of wage with what an employer pays on top of it is
 * 81,330.44 a year over 1,152 billable hours; a truck, a share of the overhead, 15 percent margin.
 */
export const rates = {
  wage: {
    hourlyCents: 3_200,
    annualPaidHours: 2_080,
    burden: [
      shareOfWages('Social Security and Medicare', '0.0765', null),
      shareOfWages('Federal unemployment', '0.006', 700_000),
      shareOfWages('State unemployment', '0.027', 900_000),
      shareOfWages('Workers’ compensation', '0.06', null),
      { kind: 'yearly_amount', name: 'Health insurance', annualCents: 540_000 },
    ],
  },
  annualAvailableHours: 1_920,
  billableFraction: '0.6',
  annualTruckCents: 1_400_000,
  annualOverheadCents: 21_000_000,
  technicianCount: 4,
  margin: '0.15',
} satisfies Book['rates'];

/** An invented price book: nobody pays these prices, and nobody's minutes these are. */
export const priceBook: Book = {
  effectiveFrom: '2020-01-01T00:00:00Z',
  rates,
  tiers: {
    mode: 'progressive',
    steps: [
      { upToCents: 2_500, factor: '3' },
      { upToCents: 10_000, factor: '2.2' },
      { upToCents: 40_000, factor: '1.7' },
      { upToCents: null, factor: '1.4' },
    ],
  },
  policy: {
    secondTaskDiscount: '0.2',
    visitFeeCreditShare: '0.5',
    fairBandTolerance: '0.05',
    causeSearchMinutes: 20,
    quoteValidityDays: 30,
    laborWarrantyDays: 30,
  },
  periods: [
    {
      code: 'regular',
      visitFeeCents: 8_900,
      laborFactor: '1',
      hours: { weekdays: [1, 2, 3, 4, 5, 6], from: '08:00', to: '18:00' },
    },
    { code: 'after_hours', visitFeeCents: 12_900, laborFactor: '1.5', hours: null },
  ],
  tasks: bookTasks,
  parts: bookParts,
  agreements: [
    {
      code: 'one_visit',
      name: 'One visit a year',
      annualPriceCents: 10_900,
      visitsPerYear: 1,
      discounts: { labor: '0.05', part: '0.05' },
    },
    {
      code: 'two_visits',
      name: 'Two visits a year',
      annualPriceCents: 19_900,
      visitsPerYear: 2,
      discounts: { visit_fee: '0.25', labor: '0.1', access: '0.1', part: '0.1' },
    },
  ],
  replacements: [
    ...replacements('condensing_unit', 520_000, 610_000, 740_000),
    ...replacements('heat_pump', 590_000, 690_000, 830_000),
    ...replacements('package_unit', 780_000, 890_000, 1_050_000),
    { kind: 'air_handler', tonsUpTo: null, typicalPriceCents: 340_000 },
    { kind: 'evaporator_coil', tonsUpTo: null, typicalPriceCents: 190_000 },
    { kind: 'furnace', tonsUpTo: null, typicalPriceCents: 460_000 },
    { kind: 'mini_split', tonsUpTo: null, typicalPriceCents: 480_000 },
  ],
};

function shareOfWages(name: string, share: string, onWagesUpToCents: number | null) {
  return { kind: 'share_of_wages' as const, name, share, onWagesUpToCents };
}

/** What a new machine typically comes to, installed: small, middling and large ones. */
function replacements(
  kind: 'condensing_unit' | 'heat_pump' | 'package_unit',
  ...[small, middling, large]: [small: number, middling: number, large: number]
) {
  return [
    { kind, tonsUpTo: 2.5, typicalPriceCents: small },
    { kind, tonsUpTo: 3.5, typicalPriceCents: middling },
    { kind, tonsUpTo: 5, typicalPriceCents: large },
  ];
}
