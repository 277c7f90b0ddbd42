import { expect, test } from 'vitest';
import { checkNameplate, type Nameplate, nameplateSchema } from '../../src/trade/index.ts';
import { condenserNameplate } from './make-evidence.ts';

test('a plate as they are made is kept, and so is one of which nothing is known', () => {
  expect(checkNameplate(condenserNameplate)).toEqual([]);
  expect(checkNameplate({})).toEqual([]);
});

test.each(['R-22', 'R-410A', 'R410A', 'R-454B', 'R-404A', 'R-1234ze(E)', 'R-290', 'R-12'])(
  'a plate may name %s, whether its saturation is known here or not',
  (refrigerant) => {
    expect(checkNameplate({ refrigerant })).toEqual([]);
  },
);

test.each(['R-999', 'R-41A', 'R-440A', 'R-4010A'])('%s is a slip of the pen', (refrigerant) => {
  expect(checkNameplate({ refrigerant })).toEqual([
    {
      field: 'refrigerant',
      code: 'no_refrigerant',
      message: `${refrigerant} is no refrigerant; look at the plate again, or leave it out`,
    },
  ]);
});

// The bounds themselves are possible, the next figure outside them is not; common practice.
const bounds: [keyof Nameplate, low: number, high: number, unit: string][] = [
  ['supplyVoltsMin', 1, 600, 'V'],
  ['supplyVoltsMax', 1, 600, 'V'],
  ['compressorRlaAmps', 0.05, 400, 'A'],
  ['compressorLraAmps', 1, 1_000, 'A'],
  ['fanFlaAmps', 0.05, 400, 'A'],
  ['capacitorHermUf', 1, 150, 'uF'],
  ['capacitorFanUf', 1, 150, 'uF'],
  ['capacitorVolts', 1, 600, 'V'],
  ['capacitorTolerancePercent', 1, 50, '%'],
  ['mcaAmps', 0.05, 400, 'A'],
  ['mocpAmps', 1, 400, 'A'],
  ['factoryChargeOz', 1, 2_000, 'oz'],
  ['tons', 0.5, 25, 'tons'],
  ['controlFuseAmps', 1, 15, 'A'],
  ['transformerVa', 10, 200, 'VA'],
  ['capacitorBlowerUf', 1, 60, 'uF'],
  ['startCapacitorUfMin', 20, 500, 'uF'],
  ['startCapacitorUfMax', 20, 600, 'uF'],
  ['externalStaticMaxInWc', 0.05, 3, 'in. w.c.'],
  ['targetSubcoolingDegF', 2, 30, 'F'],
  ['seer', 5, 40, 'SEER'],
  ['lineSetOzPerFt', 0.05, 5, 'oz/ft'],
  ['heatInputBtuh', 10_000, 500_000, 'Btu/h'],
  ['heatEfficiencyPercent', 50, 100, '%'],
  ['heatKw', 1, 60, 'kW'],
  ['sensorOhmsAt77F', 500, 200_000, 'ohm'],
  ['sensorBetaK', 2_500, 5_000, 'K'],
];
test.each(bounds)('%s is %d to %d %s and nothing else', (field, low, high, unit) => {
  for (const value of [low, high]) expect(checkNameplate({ [field]: value })).toEqual([]);
  for (const value of [low * 0.99, high * 1.01]) {
    expect(checkNameplate({ [field]: value })).toEqual([
      {
        field,
        code: 'out_of_range',
        message: `must be ${low} to ${high} ${unit}; look at the plate again`,
      },
    ]);
  }
});

test('the lowest supply voltage is not above the highest; the same is fine', () => {
  expect(checkNameplate({ supplyVoltsMin: 230, supplyVoltsMax: 230 })).toEqual([]);
  expect(checkNameplate({ supplyVoltsMin: 253, supplyVoltsMax: 187 })).toEqual([
    {
      field: 'supplyVoltsMin',
      code: 'above_maximum',
      message: 'must not be above the highest supply voltage, 187 V',
    },
  ]);
});

test('a factory charge may be made for no line set at all, and for no longer one than 100 ft', () => {
  expect(checkNameplate({ lineSetIncludedFt: 0 })).toEqual([]);
  expect(checkNameplate({ lineSetIncludedFt: 100 })).toEqual([]);
  for (const lineSetIncludedFt of [-1, 101]) {
    expect(checkNameplate({ lineSetIncludedFt })).toMatchObject([{ field: 'lineSetIncludedFt' }]);
  }
});

test('no figure of a plate goes unchecked', () => {
  const figures = nameplateSchema
    .keyof()
    .options.filter((field) => nameplateSchema.safeParse({ [field]: 12_345_678 }).success);
  expect(figures.length).toBeGreaterThan(20);
  for (const field of figures) {
    expect(checkNameplate({ [field]: 12_345_678 })).toMatchObject([{ field }]);
  }
});

test('the lowest start capacitance is not above the highest; the same is fine', () => {
  expect(checkNameplate({ startCapacitorUfMin: 88, startCapacitorUfMax: 88 })).toEqual([]);
  expect(checkNameplate({ startCapacitorUfMin: 108, startCapacitorUfMax: 88 })).toEqual([
    {
      field: 'startCapacitorUfMin',
      code: 'above_maximum',
      message: 'must not be above the highest start capacitance, 88 uF',
    },
  ]);
});

test('every wrong figure is named, not the first alone', () => {
  const fields = checkNameplate({ tons: 60, capacitorHermUf: 4_500 }).map(({ field }) => field);
  expect(fields).toEqual(['capacitorHermUf', 'tons']);
});
