import { describe, expect, it } from 'vitest';
import { companyUseTax, pricingInputsSchema } from '../../src/pricing/index.ts';
import { capacitorWork, contactorWork, repairOf, workedInvoice } from './oracle/hand-worked.ts';
import type { HandInputs } from './oracle/price-by-hand.ts';
import { pricedOption } from './price.ts';

/*
 * What tax law says of a repair, as rules that an owner could enter, on two bills of 383.10 each.
 * Rounding by Streamlined Sales and Use Tax Agreement section 324 (third decimal, up above four;
 * on each item or once on the invoice) is worked in hand-worked.ts, with sliding tiers and margin
 * against markup. Rates not named by a rule are illustrative.
 */

const goods: Tax['taxableClasses'] = ['part', 'material', 'equipment'];
const everything: Tax['taxableClasses'] = ['visit_fee', 'labor', 'access', ...goods];

/** 7.25 % is California's own rate without districts, from memory. */
const california: Partial<Tax> = {
  rate: '0.0725',
  taxableClasses: goods,
  mode: 'lump_sum',
  separateAboveShare: '0.10',
};

describe('a repair of 383.10 with parts of 120.45 is taxed as the rule of its place says', () => {
  it.each<TaxRow>([
    {
      place: 'New York: upkeep of real property is taxed in full, labor included',
      source: '20 NYCRR 527.7; 8.875 % is the rate of New York City, from memory',
      rule: { rate: '0.08875', taxableClasses: everything },
      // 34.000125
      taxCents: 3400,
      stated: 'separated',
    },
    {
      place: 'Texas, a home, separated contract: the materials are taxed, the labor is not',
      source: '34 TAC 3.291',
      rule: { rate: '0.0825', taxableClasses: goods },
      // 9.937125
      taxCents: 994,
      stated: 'separated',
    },
    {
      place: 'Texas, a home, lump sum: the customer is charged none',
      source: '34 TAC 3.291',
      rule: { rate: '0.0825', taxableClasses: goods, mode: 'lump_sum' },
      taxCents: 0,
      stated: 'lump_sum',
    },
    {
      place: 'Texas, not a home: the whole charge is taxed',
      source: '34 TAC 3.357, as 34 TAC 3.292(e) refers to it',
      rule: { rate: '0.0825', taxableClasses: everything },
      // 31.60575
      taxCents: 3161,
      stated: 'separated',
    },
    {
      place: 'California: parts of 31.4 % of the charge are more than 10 % and taxed',
      source: 'California Regulation 1546(b)(1)',
      rule: california,
      // 7.25 % of 120.45 = 8.732625
      taxCents: 873,
      stated: 'separated',
    },
  ])('$place ($source)', ({ rule, taxCents, stated }) => {
    const option = pricedOption(workedInvoice(rule));
    expect(option.totalCents - option.taxCents).toBe(38310);
    expect(option).toMatchObject({ taxCents, stated });
  });
});

describe('a repair of 383.10 with parts of 30.00, which are 7.8 %', () => {
  it.each<TaxRow>([
    {
      place: 'California: not more than 10 % and not stated, so no tax to the customer',
      source: 'California Regulation 1546(b)(1)',
      rule: california,
      taxCents: 0,
      stated: 'lump_sum',
    },
    {
      place: 'California: stated separately, they are taxed however few they are',
      source: 'California Regulation 1546(b)(1)',
      rule: { ...california, mode: 'separated' },
      // 7.25 % of 30.00 = 2.175
      taxCents: 218,
      stated: 'separated',
    },
  ])('$place ($source)', ({ rule, taxCents, stated }) => {
    const option = pricedOption(fewParts(rule));
    expect(option.totalCents - option.taxCents).toBe(38310);
    expect(option).toMatchObject({ taxCents, stated });
  });
});

describe('under a lump sum the company pays tax on what it used up', () => {
  it('8.25 % of 18.40 and 21.75 is 3.31 (34 TAC 3.291), and shows how', () => {
    const rule = { rate: '0.0825', taxableClasses: goods, mode: 'lump_sum' as const };
    const inputs = pricingInputsSchema.parse({
      ...workedInvoice(rule),
      options: repairOf([capacitorWork(), contactorWork()]),
    });
    const [option] = inputs.options;
    if (option === undefined) throw new Error('the worked invoice has an option');
    const { cents, why } = companyUseTax(option, inputs.tax);
    expect(cents).toBe(331);
    expect(why).toMatchObject({
      node: 'rounding',
      cents: 331,
      from: [
        {
          name: 'cost of parts and materials',
          exact: '4015/1',
          from: [{ exact: '1840/1' }, { exact: '2175/1' }],
        },
        { name: 'tax rate', value: '0.0825' },
      ],
    });
  });
});

type Tax = HandInputs['tax'];

interface TaxRow {
  place: string;
  source: string;
  rule: Partial<Tax>;
  taxCents: number;
  stated: 'separated' | 'lump_sum';
}

/** Fee 89.00, a part of 12.00 x 2.5 = 30.00, one hour of labor at 264.10. */
function fewParts(rule: Partial<Tax>): HandInputs {
  const parts = capacitorWork().parts.map((part) => ({ ...part, unitCostCents: 1200 }));
  return {
    ...workedInvoice(rule),
    rates: oneHour(26_410),
    tiers: { mode: 'progressive', steps: [{ upToCents: null, factor: '2.5' }] },
    options: repairOf([capacitorWork({ minutes: 60, parts })]),
  };
}

/** Rates whose one billable hour a year has to carry one cost, at no margin. */
function oneHour(annualBurdenedWageCents: number) {
  return {
    annualBurdenedWageCents,
    annualAvailableHours: 1,
    billableFraction: '1',
    annualTruckCents: 0,
    annualOverheadCents: 0,
    technicianCount: 1,
    margin: '0',
  };
}
