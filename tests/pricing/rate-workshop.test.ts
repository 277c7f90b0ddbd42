import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import {
  compareRates,
  laborRateCents,
  type RateInputs,
  rateInputsSchema,
  rateWorkshop,
} from '../../src/pricing/index.ts';

/*
 * One technician worked out by hand. FICA 7.65 % of all wages: 26 USC 3111. FUTA 0.6 % of the first
 * 7,000: 26 USC 3301 and 3302, from memory. The state's rate, workers' compensation, health, truck
 * and overhead are illustrative. The rest is first principles and anybody's pencil.
 */
const wage = {
  hourlyCents: 3_200,
  annualPaidHours: 2_080,
  burden: [
    share('FICA', '0.0765', null),
    share('FUTA', '0.006', 700_000),
    share('State unemployment', '0.027', 900_000),
    share('Workers’ compensation', '0.06', null),
    { kind: 'yearly_amount', name: 'Health insurance', annualCents: 540_000 },
  ],
};

function share(name: string, rate: string, onWagesUpToCents: number | null) {
  return { kind: 'share_of_wages', name, share: rate, onWagesUpToCents };
}

/** Without the wage's components where a sum is given instead. */
function rates(change: object = {}): RateInputs {
  return rateInputsSchema.parse({
    ...('annualBurdenedWageCents' in change ? {} : { wage }),
    annualAvailableHours: 1_920,
    billableFraction: '0.6',
    annualTruckCents: 1_400_000,
    annualOverheadCents: 21_000_000,
    technicianCount: 4,
    margin: '0.15',
    ...change,
  });
}

const figures = (change?: object) => rateWorkshop(rates(change));

describe('a wage with everything an employer pays on top of it', () => {
  const { wage: found, burdenedWage } = figures();

  it.each([
    ['FICA', '5091.84'],
    ['FUTA', '42.00'],
    ['State unemployment', '243.00'],
    ['Workers’ compensation', '3993.60'],
    ['Health insurance', '5400.00'],
  ])('%s comes to %s a year', (name, decimal) => {
    expect(found?.burden.find((each) => each.name === name)?.perYear).toEqual({
      decimal,
      unit: 'usd_per_year',
      isRounded: false,
    });
  });

  it('32.00 an hour is 66,560.00 of wages and 81,330.44 with its burden of 22.19 %', () => {
    expect(found?.wages.decimal).toBe('66560.00');
    expect(burdenedWage).toEqual({ decimal: '81330.44', unit: 'usd_per_year', isRounded: false });
    expect(found?.burdenOnWages).toEqual({ decimal: '22.19', unit: 'percent', isRounded: true });
  });

  it('a tax on the first wages of a year is no more where less is earned', () => {
    const small = figures({ wage: { ...wage, hourlyCents: 100, annualPaidHours: 1_000 } });
    expect(small.wage?.burden[1]?.perYear.decimal).toBe('6.00');
  });

  it('given as one sum it cannot be taken apart, and gives the same rate', () => {
    const summed = rates({ annualBurdenedWageCents: 8_133_044 });
    expect(rateWorkshop(summed)).toEqual({ ...figures(), wage: null });
  });

  it('nobody paid by the hour has no share of burden', () => {
    expect(figures({ wage: { ...wage, hourlyCents: 0 } }).wage?.burdenOnWages).toBeNull();
  });
});

describe('an hour of labor', () => {
  it('costs 39.10 per paid hour and 70.60 per billed hour, of which there are 1,152', () => {
    const { wage: found, billableHours, costPerHour } = figures();
    expect(found?.costPerPaidHour.decimal).toBe('39.1012');
    expect(billableHours).toEqual({ decimal: '1152.0', unit: 'hours_per_year', isRounded: false });
    expect(costPerHour.wage.decimal).toBe('70.5993');
  });

  it('carries truck 12.1528 and overhead 45.5729, in all 128.3250, and sells for 150.97', () => {
    const { costPerHour, laborRateCents } = figures();
    expect(costPerHour.truck.decimal).toBe('12.1528');
    expect(costPerHour.overhead.decimal).toBe('45.5729');
    expect(costPerHour.total).toEqual({
      decimal: '128.3250',
      unit: 'usd_per_hour',
      isRounded: true,
    });
    expect(laborRateCents).toBe(15_097);
  });

  it('a technician with truck and overhead is paid after 979.2 billed hours', () => {
    // (81,330.44 + 14,000 + 52,500) / 150.97.
    expect(figures().breakEvenHours).toEqual({
      decimal: '979.2',
      unit: 'hours_per_year',
      isRounded: true,
    });
  });

  it('without a price there are no hours that would pay for it', () => {
    const free = { ...wage, hourlyCents: 0, burden: [] };
    const nothing = figures({ wage: free, annualTruckCents: 0, annualOverheadCents: 0 });
    expect(nothing.breakEvenHours).toBeNull();
  });
});

describe('a margin is no markup', () => {
  it.each([
    ['0.2', '25.00'],
    ['0.25', '33.33'],
    // A third, which the published table writes as 33.3 %.
    ['0.333333', '50.00'],
    ['0.4', '66.67'],
    ['0.5', '100.00'],
    ['0.6', '150.00'],
  ])('a margin of %s is a markup of %s %%', (margin, percent) => {
    expect(figures({ margin }).equalMarkup.decimal).toBe(percent);
  });

  it('15 % put on the cost gives 147.57, which leaves 13.04 % of the price and not 15 %', () => {
    expect(figures().marginTakenForMarkup).toEqual({
      rateCents: 14_757,
      marginLeft: { decimal: '13.04', unit: 'percent', isRounded: true },
    });
  });
});

const arbitraryRates = fc
  .record({
    hourlyCents: fc.integer({ min: 1, max: 20_000 }),
    annualPaidHours: fc.integer({ min: 1, max: 3_000 }),
    fica: fc.constantFrom('0', '0.0765', '0.333333', '1'),
    cap: fc.option(fc.integer({ min: 0, max: 2_000_000 })),
    annualCents: fc.integer({ min: 0, max: 2_000_000 }),
    annualAvailableHours: fc.integer({ min: 1, max: 3_000 }),
    billableFraction: fc.constantFrom('0.01', '0.35', '0.613', '1'),
    annualTruckCents: fc.integer({ min: 0, max: 3_000_000 }),
    annualOverheadCents: fc.integer({ min: 0, max: 50_000_000 }),
    technicianCount: fc.integer({ min: 1, max: 100 }),
    margin: fc.constantFrom('0', '0.15', '0.333333', '0.99'),
  })
  .map(({ hourlyCents, annualPaidHours, fica, cap, annualCents, ...others }) =>
    rateInputsSchema.parse({
      ...others,
      wage: {
        hourlyCents,
        annualPaidHours,
        burden: [share('FICA', fica, cap), { kind: 'yearly_amount', name: 'Health', annualCents }],
      },
    }),
  );

describe('whatever the rates are', () => {
  it('the rate is the engine’s own, and the parts come to the whole', () => {
    fc.assert(
      fc.property(arbitraryRates, (any) => {
        const found = rateWorkshop(any);
        expect(found.laborRateCents).toBe(laborRateCents(any));
        const { wage: ofWage, truck, overhead, total } = found.costPerHour;
        const off = lastDigits(ofWage, truck, overhead) - lastDigits(total);
        expect(off >= -2n && off <= 2n).toBe(true);
        if (found.wage === null) throw new Error('these rates have a wage');
        const burden = found.wage.burden.map(({ perYear }) => perYear);
        const yearlyOff = lastDigits(found.wage.wages, ...burden) - lastDigits(found.burdenedWage);
        expect(yearlyOff >= -1n && yearlyOff <= 1n).toBe(true);
      }),
    );
  });

  it('the margin taken for a markup never leaves more of the price than the margin', () => {
    fc.assert(
      fc.property(arbitraryRates, (any) => {
        const { marginTakenForMarkup, laborRateCents: rate } = rateWorkshop(any);
        expect(marginTakenForMarkup.rateCents).toBeLessThanOrEqual(rate);
        expect(Number(marginTakenForMarkup.marginLeft.decimal)).toBeLessThanOrEqual(
          Number(any.margin) * 100 + 0.005,
        );
      }),
    );
  });
});

/** The sum of figures of one kind, counted in their last digit. */
function lastDigits(...figures: readonly { decimal: string }[]): bigint {
  return figures.reduce((sum, { decimal }) => sum + BigInt(decimal.replace('.', '')), 0n);
}

describe('proposed rates beside those in force', () => {
  it('say what an hour and half an hour cost before and after', () => {
    // 128.3250 / 0.8 = 160.41; half of 150.97 is 75.485, half of 160.41 is 80.205: halves go up.
    expect(compareRates(rates(), rates({ margin: '0.2' }))).toEqual({
      laborRateCents: { before: 15_097, after: 16_041, difference: 944 },
      oneHourCents: { before: 15_097, after: 16_041, difference: 944 },
      halfAnHourCents: { before: 7_549, after: 8_021, difference: 472 },
    });
  });
});
