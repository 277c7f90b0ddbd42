import { expect, test } from 'vitest';
import { checkNameplate, type Nameplate } from '../../src/trade/index.ts';
import { condenserNameplate } from './make-evidence.ts';

test('a plate as they are made is kept, and so is one of which nothing is known', () => {
  expect(checkNameplate(condenserNameplate)).toEqual([]);
  expect(checkNameplate({})).toEqual([]);
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

test('every wrong figure is named, not the first alone', () => {
  const fields = checkNameplate({ tons: 60, capacitorHermUf: 4_500 }).map(({ field }) => field);
  expect(fields).toEqual(['capacitorHermUf', 'tons']);
});
