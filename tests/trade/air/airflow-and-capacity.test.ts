import fc from 'fast-check';
import { describe, expect, it, test } from 'vitest';
import { airDensityRatio } from '../../../src/trade/air/air-density-ratio.ts';
import { sensibleBtuPerHour, totalBtuPerHour } from '../../../src/trade/air/air-heat.ts';
import {
  airflowFromRiseCfm,
  electricHeatAirflowCfm,
  furnaceAirflowCfm,
} from '../../../src/trade/air/airflow-from-rise.ts';
import { deliveredCapacity } from '../../../src/trade/air/delivered-capacity.ts';
import { humidityRatio } from '../../../src/trade/air/moist-air.ts';
import {
  nominalAirflowCfm,
  nominalCapacityBtuPerHour,
  shareOfNominalPercent,
  tonsOfModelDigits,
} from '../../../src/trade/air/nominal-capacity.ts';

describe('thin air carries less heat', () => {
  // From memory of ASHRAE Handbook Fundamentals, chapter 1, equation 3; computed from it.
  it.each([
    [0, 1],
    [2000, 0.9298],
    [5000, 0.8321],
    [5280, 0.8234],
    [7000, 0.7716],
  ])('at %d ft it has %d of its density', (altitudeFt, ratio) => {
    expect(airDensityRatio(altitudeFt)).toBeCloseTo(ratio, 4);
  });

  it('5,000 ft is 12.228 psia', () => {
    expect(14.696 * (airDensityRatio(5000) ?? Number.NaN)).toBeCloseTo(12.228, 3);
  });

  it.each([
    [2000, 1.004, 4.184],
    [5000, 0.899, 3.744],
  ])('at %d ft the factors are %d and %d', (altitudeFt, sensible, total) => {
    expect(sensibleBtuPerHour(1, 1, altitudeFt)).toBeCloseTo(sensible, 3);
    expect(totalBtuPerHour(1, 1, altitudeFt)).toBeCloseTo(total, 3);
  });

  it('at 5,280 ft the sensible factor is 0.889', () => {
    expect(sensibleBtuPerHour(1, 1, 5280)).toBeCloseTo(0.889, 3);
  });

  test('the higher, the thinner', () => {
    const anyAltitude = fc.integer({ min: -1500, max: 15_000 });
    fc.assert(
      fc.property(anyAltitude, anyAltitude, (a, b) => {
        fc.pre(a !== b);
        const [low, high] = [airDensityRatio(Math.min(a, b)), airDensityRatio(Math.max(a, b))];
        expect(high).toBeLessThan(low ?? Number.NaN);
        expect(high).toBeGreaterThan(0.5);
      }),
    );
  });

  it.each([-1501, 15_001, Number.NaN])('nobody has a house at %d ft', (altitudeFt) => {
    expect(airDensityRatio(altitudeFt)).toBeUndefined();
    expect(sensibleBtuPerHour(1200, 20, altitudeFt)).toBeUndefined();
    expect(airflowFromRiseCfm(24_000, 20, altitudeFt)).toBeUndefined();
  });
});

describe('air that changes its temperature tells how much of it flows', () => {
  // 1.08 = 60 x 0.075 x 0.24, a field-formula page's derivation.
  it('1,200 CFM by 20 F is 25,920 Btu/h', () => {
    expect(60 * 0.075 * 0.24).toBeCloseTo(1.08, 12);
    expect(sensibleBtuPerHour(1200, 20, 0)).toBeCloseTo(25_920, 6);
  });

  it('24,000 Btu/h by 20 F is 1,111 CFM', () => {
    expect(airflowFromRiseCfm(24_000, 20, 0)).toBeCloseTo(1111, 0);
  });

  // A published example of airflow by temperature rise.
  it('a furnace of 80,000 Btu/h at 80 % that warms by 40 F moves 1,481 CFM', () => {
    const furnace = { inputBtuPerHour: 80_000, efficiency: 0.8, riseDegF: 40, altitudeFt: 0 };
    expect(furnaceAirflowCfm(furnace)).toBeCloseTo(1481, 0);
  });

  // First principles, 3,412 Btu/h to the kW.
  it('10 kW of strips that warm by 25 F are blown by 1,264 CFM', () => {
    expect(electricHeatAirflowCfm({ powerKw: 10, riseDegF: 25, altitudeFt: 0 })).toBeCloseTo(
      1263.7,
      1,
    );
  });

  it('the same rise in the mountains takes more cubic feet of thinner air', () => {
    const low = electricHeatAirflowCfm({ powerKw: 10, riseDegF: 25, altitudeFt: 0 });
    const high = electricHeatAirflowCfm({ powerKw: 10, riseDegF: 25, altitudeFt: 5000 });
    expect((high ?? Number.NaN) / (low ?? Number.NaN)).toBeCloseTo(1 / 0.8321, 3);
  });

  it.each([0, -5])('a rise of %d F tells nothing', (riseDegF) => {
    expect(airflowFromRiseCfm(24_000, riseDegF, 0)).toBeUndefined();
  });

  // A trade-training article's expanded performance data: 1,400 CFM, 95 F outdoors.
  it.each([
    [72, 25_010, 16.54],
    [67, 31_730, 20.99],
    [63, 37_360, 24.71],
    [57, 37_930, 25.09],
  ])(
    'at %d F wet bulb the same unit gives %d Btu/h sensible, so %d F of split',
    (_wb, q, split) => {
      expect((sensibleBtuPerHour(1400, split, 0) ?? Number.NaN) / q).toBeCloseTo(1, 3);
      expect(airflowFromRiseCfm(q, split, 0)).toBeCloseTo(1400, -1);
    },
  );

  it('the same article mistypes 31,370 for 31,730, which 20.99 F does not give', () => {
    expect((sensibleBtuPerHour(1400, 20.99, 0) ?? Number.NaN) / 31_370).not.toBeCloseTo(1, 2);
    expect((sensibleBtuPerHour(1400, 20.74, 0) ?? Number.NaN) / 31_370).toBeCloseTo(1, 3);
  });
});

describe('the capacity that is delivered', () => {
  const typical = {
    airflowCfm: 1200,
    returnAir: { dryBulbDegF: 80, wetBulbDegF: 67 },
    supplyAir: { dryBulbDegF: 57, wetBulbDegF: 55 },
    altitudeFt: 0,
  };

  // ASHRAE Fundamentals enthalpies 31.45 and 23.17, rounded; 4.5 x 1,200 CFM makes 0.01 Btu/lb 54 Btu/h.
  it('80/67 to 57/55 F at 1,200 CFM is 44,712 Btu/h, two thirds of it sensible', () => {
    const delivered = deliveredCapacity(typical);
    expect(Math.abs((delivered?.totalBtuPerHour ?? 0) - 44_712)).toBeLessThanOrEqual(54);
    expect(delivered?.sensibleBtuPerHour).toBeCloseTo(29_808, 6);
    expect(delivered?.sensibleHeatRatio).toBeCloseTo(0.667, 3);
  });

  // 4.5 = 60 x 0.075.
  it('8.28 Btu/lb of 1,200 CFM are 44,712 Btu/h', () => {
    expect(totalBtuPerHour(1200, 8.28, 0)).toBeCloseTo(44_712, 6);
  });

  // 0.68 x CFM x grains, the trade's own rule, counts 1,061 Btu per lb of water where this air's
  // vapor has some 1,090 (3 %), and 1.08 leaves out what the vapor itself cools by (4 %).
  it('its latent part is above the rule of 0.68 x CFM x grains, by 8 % at most', () => {
    const grains = (air: { dryBulbDegF: number; wetBulbDegF: number }) =>
      7000 * (humidityRatio({ ...air, pressurePsia: 14.696 }) ?? Number.NaN);
    const byGrains = 0.68 * 1200 * (grains(typical.returnAir) - grains(typical.supplyAir));
    const latent = deliveredCapacity(typical)?.latentBtuPerHour ?? Number.NaN;
    expect(latent / byGrains).toBeGreaterThan(1);
    expect(latent / byGrains).toBeLessThan(1.08);
  });

  it('is less in the mountains, by less than the density, as thin air holds more water', () => {
    const low = deliveredCapacity(typical);
    const high = deliveredCapacity({ ...typical, altitudeFt: 5000 });
    const ratio = (high?.totalBtuPerHour ?? 0) / (low?.totalBtuPerHour ?? 0);
    expect(ratio).toBeGreaterThan(0.8321);
    expect(ratio).toBeLessThan(1);
    const sensible = (high?.sensibleBtuPerHour ?? 0) / (low?.sensibleBtuPerHour ?? 0);
    expect(sensible).toBeCloseTo(0.8321, 4);
  });

  it.each([
    ['a wet bulb above the dry bulb', { supplyAir: { dryBulbDegF: 57, wetBulbDegF: 58 } }],
    ['a wrong altitude', { altitudeFt: 60_000 }],
  ])('has no figure with %s', (_what, change) => {
    expect(deliveredCapacity({ ...typical, ...change })).toBeUndefined();
  });

  it('has no sensible share where nothing is delivered', () => {
    const same = { ...typical, supplyAir: typical.returnAir };
    expect(deliveredCapacity(same)).toEqual({
      totalBtuPerHour: 0,
      sensibleBtuPerHour: 0,
      latentBtuPerHour: 0,
      sensibleHeatRatio: undefined,
    });
  });

  test('its sensible and latent parts add up to its total', () => {
    const anyAir = fc.record({
      dryBulbDegF: fc.integer({ min: 45, max: 95 }),
      wetBulbDegF: fc.integer({ min: 45, max: 95 }),
    });
    fc.assert(
      fc.property(
        fc.integer({ min: 200, max: 2400 }),
        anyAir,
        anyAir,
        fc.integer({ min: 0, max: 9000 }),
        (airflowCfm, returnAir, supplyAir, altitudeFt) => {
          const delivered = deliveredCapacity({ airflowCfm, returnAir, supplyAir, altitudeFt });
          fc.pre(delivered !== undefined);
          const { totalBtuPerHour: total, sensibleBtuPerHour, latentBtuPerHour } = delivered;
          expect(sensibleBtuPerHour + latentBtuPerHour).toBeCloseTo(total, 6);
        },
      ),
    );
  });
});

describe('the capacity on the plate', () => {
  // By definition of the ton; airflow per ton from a parts catalog's data page.
  it('3 tons are 36,000 Btu/h and 1,200 CFM, 1,050 to 1,350', () => {
    expect(nominalCapacityBtuPerHour(3)).toBe(36_000);
    expect(nominalAirflowCfm(3)).toEqual({ low: 1050, usual: 1200, high: 1350 });
  });

  it('44,712 Btu/h of 4 tons are 93.15 %', () => {
    expect(shareOfNominalPercent(44_712, 4)).toBeCloseTo(93.15, 6);
  });

  // Common practice, no source.
  it.each([
    ['018', 1.5],
    ['024', 2],
    ['030', 2.5],
    ['036', 3],
    ['042', 3.5],
    ['048', 4],
    ['060', 5],
  ])('%s in a model number is %d tons', (digits, tons) => {
    expect(tonsOfModelDigits(digits)).toBe(tons);
    expect(nominalCapacityBtuPerHour(tons)).toBe(Number(digits) * 1000);
  });

  it('digits that stand for no size are not guessed', () => {
    expect(tonsOfModelDigits('410')).toBeUndefined();
  });
});
