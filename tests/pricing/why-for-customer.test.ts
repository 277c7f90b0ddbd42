import { describe, expect, it } from 'vitest';
import { whyForCustomer } from '../../src/pricing/index.ts';
import { capacitorWork, contactorWork, workedInvoice } from './oracle/hand-worked.ts';
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
