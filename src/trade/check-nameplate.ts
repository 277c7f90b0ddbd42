import type { Nameplate } from './evidence.ts';

/** What is wrong with one figure of a nameplate. */
export type NameplateRefusal = { field: keyof Nameplate; code: string; message: string };

/**
 * What no manufacturer's plate of this trade says, all of it: figures outside what can be, and a
 * lowest supply voltage above the highest. Empty when the plate may be kept.
 */
export function checkNameplate(nameplate: Nameplate): NameplateRefusal[] {
  const refusals = figures.flatMap((field): NameplateRefusal[] => {
    const value = nameplate[field];
    const { low, high, unit } = plateRanges[field];
    if (value === undefined || (value >= low && value <= high)) return [];
    const message = `must be ${low} to ${high} ${unit}; look at the plate again`;
    return [{ field, code: 'out_of_range', message }];
  });
  const { supplyVoltsMin, supplyVoltsMax } = nameplate;
  if (supplyVoltsMin === undefined || supplyVoltsMax === undefined) return refusals;
  if (supplyVoltsMin <= supplyVoltsMax) return refusals;
  const message = `must not be above the highest supply voltage, ${supplyVoltsMax} V`;
  return [...refusals, { field: 'supplyVoltsMin', code: 'above_maximum', message }];
}

const amps = { low: 0.05, high: 400, unit: 'A' };
const volts = { low: 1, high: 600, unit: 'V' };
const microfarads = { low: 1, high: 150, unit: 'uF' };

/** Homes and light commerce, with room to spare: common practice, no source. */
const plateRanges = {
  supplyVoltsMin: volts,
  supplyVoltsMax: volts,
  compressorRlaAmps: amps,
  compressorLraAmps: { low: 1, high: 1_000, unit: 'A' },
  fanFlaAmps: amps,
  capacitorHermUf: microfarads,
  capacitorFanUf: microfarads,
  capacitorVolts: volts,
  capacitorTolerancePercent: { low: 1, high: 50, unit: '%' },
  mcaAmps: amps,
  mocpAmps: { low: 1, high: 400, unit: 'A' },
  factoryChargeOz: { low: 1, high: 2_000, unit: 'oz' },
  tons: { low: 0.5, high: 25, unit: 'tons' },
  controlFuseAmps: { low: 1, high: 15, unit: 'A' },
  transformerVa: { low: 10, high: 200, unit: 'VA' },
  capacitorBlowerUf: { low: 1, high: 60, unit: 'uF' },
  startCapacitorUfMin: { low: 20, high: 500, unit: 'uF' },
  startCapacitorUfMax: { low: 20, high: 600, unit: 'uF' },
  externalStaticMaxInWc: { low: 0.05, high: 3, unit: 'in. w.c.' },
  targetSubcoolingDegF: { low: 2, high: 30, unit: 'F' },
  seer: { low: 5, high: 40, unit: 'SEER' },
  lineSetIncludedFt: { low: 0, high: 100, unit: 'ft' },
  lineSetOzPerFt: { low: 0.05, high: 5, unit: 'oz/ft' },
  heatInputBtuh: { low: 10_000, high: 500_000, unit: 'Btu/h' },
  heatEfficiencyPercent: { low: 50, high: 100, unit: '%' },
  heatKw: { low: 1, high: 60, unit: 'kW' },
  sensorOhmsAt77F: { low: 500, high: 200_000, unit: 'ohm' },
  sensorBetaK: { low: 2_500, high: 5_000, unit: 'K' },
} as const satisfies Partial<Record<keyof Nameplate, { low: number; high: number; unit: string }>>;

const figures = Object.keys(plateRanges) as (keyof typeof plateRanges)[];
