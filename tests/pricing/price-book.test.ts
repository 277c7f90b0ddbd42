import { describe, expect, it } from 'vitest';
import {
  agreementSchema,
  decimalSchema,
  goodsUseSchema,
  partTiersSchema,
  pricingInputsSchema,
  rateInputsSchema,
  shareSchema,
} from '../../src/pricing/index.ts';
import {
  capacitorWork,
  refrigerant,
  workedInvoice,
  workedRates,
  workedWage,
} from './oracle/hand-worked.ts';

describe('the book takes exact numbers only', () => {
  it.each(['0', '1', '0.0825', '151.00', '999999.999999'])('%s is a decimal', (text) => {
    expect(decimalSchema.safeParse(text).success).toBe(true);
  });

  it.each(['', '.5', '1.', '01', '-1', '+1', '1e3', '1,5', '0.1234567', 'half', '0x10'])(
    "'%s' is not",
    (text) => {
      expect(decimalSchema.safeParse(text).success).toBe(false);
      expect(shareSchema.safeParse(text).success).toBe(false);
    },
  );

  it.each([
    { name: 'a share above the whole', rates: { billableFraction: '1.01' } },
    { name: 'no billable hours, which no rate could carry', rates: { billableFraction: '0' } },
    { name: 'no available hours', rates: { annualAvailableHours: 0 } },
    { name: 'no technician', rates: { technicianCount: 0 } },
    { name: 'a margin of the whole price', rates: { margin: '1' } },
    { name: 'a fraction of a cent', rates: { annualTruckCents: 0.5 } },
    { name: 'a negative cost', rates: { annualTruckCents: -1 } },
  ])('refuses $name', ({ rates }) => {
    expect(rateInputsSchema.safeParse(workedRates(rates)).success).toBe(false);
  });
});

describe('a wage', () => {
  const { annualBurdenedWageCents: _, ...carry } = workedRates({});
  const takes = (rates: object) => rateInputsSchema.safeParse({ ...carry, ...rates }).success;
  const share = { kind: 'share_of_wages', name: 'FICA', share: '0.0765', onWagesUpToCents: null };

  it('is given in its components or as one sum', () => {
    expect(takes({ wage: { ...workedWage, burden: [share] } })).toBe(true);
    expect(takes({ annualBurdenedWageCents: 8133044 })).toBe(true);
  });

  it.each([
    { name: 'neither', rates: {} },
    {
      name: 'both, which could contradict',
      rates: { wage: workedWage, annualBurdenedWageCents: 1 },
    },
    { name: 'no paid hours', rates: { wage: { ...workedWage, annualPaidHours: 0 } } },
    { name: 'a fraction of a cent', rates: { wage: { ...workedWage, hourlyCents: 0.5 } } },
    {
      name: 'a burden above all wages',
      rates: { wage: { ...workedWage, burden: [{ ...share, share: '1.01' }] } },
    },
    {
      name: 'a burden that does not say up to which wages',
      rates: {
        wage: { ...workedWage, burden: [{ kind: 'share_of_wages', name: 'A', share: '0' }] },
      },
    },
  ])('is not $name', ({ rates }) => {
    expect(takes(rates)).toBe(false);
  });
});

describe('measured goods', () => {
  const good = refrigerant(31337);
  const takes = (changes: object) => goodsUseSchema.safeParse({ ...good, ...changes }).success;

  it.each(['0.001', '2.50', '3', '999999'])('are sold by %s', (quantity) => {
    expect(takes({ quantity })).toBe(true);
  });

  it.each([
    { name: 'nothing', changes: { quantity: '0.000' } },
    { name: 'finer than a thousandth', changes: { quantity: '0.0001' } },
    { name: 'less than nothing', changes: { quantity: '-1' } },
    { name: 'from an empty pack', changes: { packQuantity: '0' } },
    { name: 'in a unit nobody sells by', changes: { unit: '[mi_i]' } },
    { name: 'at a price somebody typed', changes: { amountCents: 100 } },
    { name: 'as labor to the tax rule', changes: { taxClass: 'labor' } },
  ])('are not sold $name', ({ changes }) => {
    expect(takes(changes)).toBe(false);
  });
});

describe('a maintenance agreement', () => {
  const takes = (discounts: object) =>
    agreementSchema.safeParse({ code: 'yearly', name: 'Yearly care', discounts }).success;

  it('gives shares on the classes it names', () => {
    expect(takes({ part: '0.1', visit_fee: '1' })).toBe(true);
    expect(takes({})).toBe(true);
  });

  it('gives no more than the whole, and nothing on tax', () => {
    expect(takes({ part: '1.1' })).toBe(false);
    expect(takes({ tax: '0.1' })).toBe(false);
  });
});

describe('part tiers', () => {
  const end = { upToCents: null, factor: '1.4' };
  it.each([
    { name: 'no steps', steps: [] },
    { name: 'a last step with an end', steps: [{ upToCents: 100, factor: '2' }] },
    { name: 'an open step in the middle', steps: [end, end] },
    { name: 'a step that ends at zero', steps: [{ upToCents: 0, factor: '2' }, end] },
    {
      name: 'ends that do not rise',
      steps: [{ upToCents: 200, factor: '2' }, { upToCents: 200, factor: '2' }, end],
    },
    { name: 'a factor that sells below cost', steps: [{ upToCents: null, factor: '0.99' }] },
  ])('refuse $name', ({ steps }) => {
    expect(partTiersSchema.safeParse({ mode: 'flat', steps }).success).toBe(false);
  });
});

describe('the inputs of a quote', () => {
  const inputs = workedInvoice({});

  it('are one to three options', () => {
    const [option] = inputs.options;
    expect(pricingInputsSchema.safeParse({ ...inputs, options: [] }).success).toBe(false);
    const four = [option, option, option, option];
    expect(pricingInputsSchema.safeParse({ ...inputs, options: four }).success).toBe(false);
    expect(pricingInputsSchema.safeParse({ ...inputs, options: four.slice(1) }).success).toBe(true);
  });

  it('take no price: a field nobody defined is refused, not ignored', () => {
    const work = [{ ...capacitorWork(), laborCents: 99 }];
    const withPrice = { ...inputs, options: [{ title: 'Repair', work, adjustments: [] }] };
    expect(pricingInputsSchema.safeParse(withPrice).success).toBe(false);
  });

  it('take no id with a colon, which could be read as the key of another line', () => {
    const work = [capacitorWork({ findingId: 'a:b' })];
    const forged = { ...inputs, options: [{ title: 'Repair', work, adjustments: [] }] };
    expect(pricingInputsSchema.safeParse(forged).success).toBe(false);
  });
});
