import { describe, expect, it } from 'vitest';
import { capacitorWork, workedInvoice } from './oracle/hand-worked.ts';
import { priced } from './price.ts';

const labor = 'labor:finding-capacitor:replace_run_capacitor';

describe('a visit fee of which no cent can be credited', () => {
  it('has no line that credits nothing', () => {
    // 8 % on a fee of 89.07 is 7.13, and 7.12 as soon as a cent less is taxed. The labor is 0.01, so
    // that a cent of credit leaves 89.07 to pay and saves a cent of tax: less than declining.
    const inputs = {
      ...workedInvoice({ rate: '0.08', taxableClasses: ['visit_fee'] }),
      visitFee: { chargeable: true as const, amountCents: 8907 },
      options: [
        {
          title: 'Repair',
          work: [capacitorWork({ parts: [] })],
          adjustments: [{ aimedAt: labor, amountCents: -11324, reason: 'Goodwill', byOwner: true }],
        },
      ],
    };
    const all = priced({ ...inputs, policy: { ...inputs.policy, visitFeeCreditShare: '1' } });
    expect(all.decline.totalCents).toBe(8907 + 713);
    const [option] = all.options;
    expect(option?.totalCents).toBe(8907 + 1 + 713);
    expect(option?.lines.map(({ kind }) => kind)).toEqual([
      'visit_fee',
      'labor',
      'adjustment',
      'tax',
    ]);
  });
});
