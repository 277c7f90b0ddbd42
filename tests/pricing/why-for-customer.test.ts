import { describe, expect, it } from 'vitest';
import { whyForCustomer } from '../../src/pricing/index.ts';
import {
  capacitorWork,
  chargeWork,
  contactorWork,
  refrigerant,
  repairOf,
  workedInvoice,
  workedWageRates,
} from './oracle/hand-worked.ts';
import { priced } from './price.ts';

/** Numbers that occur nowhere else in the quote, so that finding one means finding a cost. */
const costFigures = [
  { what: 'unit cost', figure: '1840' },
  { what: 'unit cost of a warranted part', figure: '2175' },
  { what: 'wage', figure: '8133044' },
  { what: 'truck', figure: '1400000' },
  { what: 'overhead', figure: '21011504' },
  { what: 'part factor', figure: '3.0' },
  { what: 'billable fraction', figure: '0.60' },
  { what: 'margin', figure: '0.15' },
];

describe('what the customer sees of a quote', () => {
  const parts = contactorWork().parts.map((part) => ({ ...part, underManufacturerWarranty: true }));
  const base = workedInvoice({ rate: '0.0825', taxableClasses: ['part'] });
  const quote = priced({
    ...base,
    policy: { ...base.policy, visitFeeCreditShare: '0.5' },
    options: [
      {
        title: 'Repair',
        work: [capacitorWork({ accessMinutes: 20 }), contactorWork({ parts })],
        adjustments: [],
      },
    ],
  });

  it.each(costFigures)('does not hold the $what, which the owner sees', ({ figure }) => {
    expect(JSON.stringify(quote)).toContain(figure);
    const reasons = [...quote.options, quote.decline].flatMap(({ lines }) =>
      lines.map(({ why }) => why),
    );
    const shown = [quote.laborRateWhy, ...reasons].map(whyForCustomer);
    expect(JSON.stringify(shown)).not.toContain(figure);
  });
});

/** The same of measured goods and of a wage in its components, each in no other number. */
describe('what the customer sees of goods and wages', () => {
  const base = workedInvoice({});
  const quote = priced({
    ...base,
    rates: workedWageRates(
      {
        hourlyCents: 3217,
        annualPaidHours: 2081,
        burden: [
          { kind: 'share_of_wages', name: 'FUTA', share: '0.0061', onWagesUpToCents: 700_003 },
          { kind: 'yearly_amount', name: 'Health plan', annualCents: 540_007 },
        ],
      },
      { margin: '0.17' },
    ),
    tiers: {
      mode: 'progressive',
      steps: [
        { upToCents: 2503, factor: '3.0' },
        { upToCents: null, factor: '2.23' },
      ],
    },
    agreement: { code: 'yearly', name: 'Yearly care', discounts: { part: '0.10' } },
    options: repairOf([
      chargeWork([refrigerant(31337, { packQuantity: '25.3' })]),
      chargeWork([refrigerant(31337, { packQuantity: '25.3' })], {
        findingId: 'finding-recall',
        recall: true,
      }),
    ]),
  });
  const reasons = quote.options.flatMap(({ lines }) => lines.map(({ why }) => why));
  const shown = JSON.stringify([quote.laborRateWhy, ...reasons].map(whyForCustomer));

  it.each([
    { what: 'cost of a pack', figure: '31337' },
    { what: 'quantity of a pack', figure: '25.3' },
    { what: 'end of a tier', figure: '2503' },
    { what: 'factor', figure: '2.23' },
    { what: 'wage', figure: '3217' },
    { what: 'paid hours', figure: '2081' },
    { what: 'share of wages', figure: '0.0061' },
    { what: 'limit of wages', figure: '700003' },
    { what: 'yearly amount', figure: '540007' },
    { what: 'name of a burden', figure: 'Health plan' },
    { what: 'margin', figure: '0.17' },
  ])('is not the $what, which the owner sees', ({ figure }) => {
    expect(JSON.stringify(quote)).toContain(figure);
    expect(shown).not.toContain(figure);
  });

  it('is how much it was, in what, and what it comes to', () => {
    const good = quote.options[0]?.lines.find(({ kind }) => kind === 'good');
    // 313.37 x 3.5 / 25.3 = 43.3516: 25.03 x 3.0 and 18.3216 x 2.23.
    expect(good).toMatchObject({ measured: '3.5', unit: '[lb_av]', amountCents: 11595 });
    expect(good?.why).toMatchObject({
      sentence: '3.5 lb for $115.95.',
      steps: [
        { name: 'quantity', value: '3.5', unit: '[lb_av]' },
        { name: 'extended price', value: '11595', unit: 'cents' },
      ],
    });
  });
});

describe('why a line has its amount', () => {
  it('is a tree: the rounding stands on the step, the step on the inputs of the book', () => {
    const [option] = priced(workedInvoice({})).options;
    const line = option?.lines.find((one) => one.kind === 'labor' && one.minutes === 45);
    expect(line?.why.steps).toEqual([
      {
        node: 'rounding',
        name: 'minutes / 60 x rate x factor',
        rule: 'half_up_to_cent',
        exact: '679500/60',
        cents: 11325,
        from: [
          { node: 'input', name: 'time of the price book', value: '45', unit: 'minutes' },
          { node: 'input', name: 'labor rate', value: '15100', unit: 'cents_per_hour' },
        ],
      },
    ]);
  });
});
