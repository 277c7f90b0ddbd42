import fc from 'fast-check';
import { describe, expect, test } from 'vitest';
import {
  annualizedLeakRatePercent,
  rollingLeakRatePercent,
} from '../../../src/trade/refrigerant/leak-rate.ts';
import {
  type ApplianceUse,
  leakRepairDuty,
} from '../../../src/trade/refrigerant/leak-repair-duty.ts';
import type { RefrigerantCode } from '../../../src/trade/refrigerant/refrigerants.ts';

describe('leak rate, annualizing (40 CFR 82.152)', () => {
  // By hand from the formula of the regulation.
  test.each([
    [4, 60, 120, 20.28],
    [4, 60, 500, 6.67],
    [4, 60, 365, 6.67],
    [1, 10, 73, 50],
  ])(
    '%f lb into %f lb after %f days is %f %%',
    (addedLb, fullChargeLb, daysSinceLastAddition, percent) => {
      expect(
        annualizedLeakRatePercent({ addedLb, fullChargeLb, daysSinceLastAddition }),
      ).toBeCloseTo(percent, 2);
    },
  );

  test.each([
    [4, 60, 0],
    [4, 0, 120],
    [4, 60, -3],
    [4, Number.NaN, 120],
  ])(
    '%f lb into %f lb after %f days has no rate',
    (addedLb, fullChargeLb, daysSinceLastAddition) => {
      expect(
        annualizedLeakRatePercent({ addedLb, fullChargeLb, daysSinceLastAddition }),
      ).toBeUndefined();
    },
  );
});

describe('leak rate, rolling (40 CFR 82.152)', () => {
  const additions = [
    { addedLb: 2, daysAgo: 0 },
    { addedLb: 4, daysAgo: 120 },
    { addedLb: 5, daysAgo: 365 },
    { addedLb: 7, daysAgo: 366 },
  ];
  // By hand.
  test.each([
    ['what is older than a year does not count', additions, undefined, 18.33],
    ['4 and 2 lb within the year', additions.slice(0, 2), undefined, 10],
    ['a repair 100 days ago starts anew', additions, 100, 3.33],
    ['what went in on the day of the repair is part of it', additions, 120, 3.33],
    ['a repair longer ago than a year changes nothing', additions, 400, 18.33],
    ['nothing added', [], undefined, 0],
  ])('%s', (_name, added, daysSinceRepair, percent) => {
    expect(rollingLeakRatePercent(added, 60, daysSinceRepair)).toBeCloseTo(percent, 2);
  });

  test('without a full charge there is no rate', () => {
    expect(rollingLeakRatePercent(additions, 0)).toBeUndefined();
  });
});

describe('the duty to repair (40 CFR 82.157 and 84.106)', () => {
  const rows: [string, RefrigerantCode, number, ApplianceUse, number, number | undefined][] = [
    ['8 lb of R-410A at home', 'R-410A', 8, 'residential_comfort', 90, undefined],
    ['20 lb of R-410A at home', 'R-410A', 20, 'residential_comfort', 90, undefined],
    ['20 lb of R-454B in light commerce', 'R-454B', 20, 'light_commercial_comfort', 90, undefined],
    ['20 lb of R-410A cooling an office tower', 'R-410A', 20, 'other_comfort', 10.1, 10],
    ['14.9 lb of R-410A cooling an office tower', 'R-410A', 14.9, 'other_comfort', 90, undefined],
    ['15 lb of R-134a at exactly 10 %', 'R-134a', 15, 'other_comfort', 10, undefined],
    ['8 lb of R-22 at home', 'R-22', 8, 'residential_comfort', 90, undefined],
    ['49.9 lb of R-22', 'R-22', 49.9, 'other_comfort', 90, undefined],
    ['60 lb of R-22 at exactly 10 %', 'R-22', 60, 'other_comfort', 10, undefined],
    ['60 lb of R-22 at 20.28 %', 'R-22', 60, 'other_comfort', 20.28, 10],
    ['50 lb of R-22 cooling homes', 'R-22', 50, 'residential_comfort', 10.1, 10],
    [
      '60 lb of R-22 in a shop cooler at 20 %',
      'R-22',
      60,
      'commercial_refrigeration',
      20,
      undefined,
    ],
    ['60 lb of R-22 in a shop cooler at 21 %', 'R-22', 60, 'commercial_refrigeration', 21, 20],
    ['60 lb of R-22 in a process at 30 %', 'R-22', 60, 'industrial_process', 30, undefined],
    ['60 lb of R-22 in a process at 31 %', 'R-22', 60, 'industrial_process', 31, 30],
  ];
  test.each(rows)('%s', (_name, refrigerant, fullChargeLb, use, leakRatePercent, limitPercent) => {
    const duty = leakRepairDuty({ refrigerant, fullChargeLb, use, leakRatePercent });
    if (limitPercent === undefined) expect(duty.duty).toBe('none');
    else expect(duty).toMatchObject({ duty: 'repair', withinDays: 30, limitPercent });
  });

  test('a home is told that venting stays forbidden and work certified', () => {
    const duty = leakRepairDuty({
      refrigerant: 'R-410A',
      fullChargeLb: 8,
      use: 'residential_comfort',
      leakRatePercent: 90,
    });
    expect(duty).toMatchObject({ duty: 'none', source: '40 CFR 84.106' });
    expect(duty.reason).toContain('Never vent; certified work only.');
  });

  test('a tenth of the charge, however it was split, is exactly 10 % and orders nothing', () => {
    fc.assert(
      fc.property(
        fc.integer({ min: 50, max: 2_000 }),
        fc.array(fc.integer({ min: 1, max: 97 }), { minLength: 1, maxLength: 7 }),
        (fullChargeLb, parts) => {
          const whole = parts.reduce((sum, part) => sum + part, 0);
          const additions = parts.map((part, index) => ({
            addedLb: (fullChargeLb / 10) * (part / whole),
            daysAgo: index,
          }));
          const rate = rollingLeakRatePercent(additions, fullChargeLb) ?? Number.NaN;
          const at = (leakRatePercent: number) =>
            leakRepairDuty({
              refrigerant: 'R-22',
              fullChargeLb,
              use: 'other_comfort',
              leakRatePercent,
            }).duty;
          expect(at(rate)).toBe('none');
          expect(at(rate + 0.001)).toBe('repair');
        },
      ),
    );
  });
});
