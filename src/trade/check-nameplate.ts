import type { Nameplate } from './evidence.ts';
import { isMadeRefrigerant } from './refrigerant/is-made-refrigerant.ts';

/** What is wrong with one figure of a nameplate. */
export type NameplateRefusal = { field: keyof Nameplate; code: string; message: string };

/**
 * What no manufacturer's plate of this trade says, all of it: figures outside what can be, a lowest
 * supply voltage or start capacitance above the highest, and a refrigerant that there is none of. Empty when the plate may be kept.
 */
export function checkNameplate(nameplate: Nameplate): NameplateRefusal[] {
  const outside = figures.flatMap((field): NameplateRefusal[] => {
    const value = nameplate[field];
    const { low, high, unit } = plateRanges[field];
    if (value === undefined || (value >= low && value <= high)) return [];
    const message = `must be ${low} to ${high} ${unit}; look at the plate again`;
    return [{ field, code: 'out_of_range', message }];
  });
  return [
    ...outside,
    ...spans.flatMap((span) => turnedOver(nameplate, span)),
    ...noRefrigerant(nameplate),
  ];
}

function noRefrigerant({ refrigerant }: Nameplate): NameplateRefusal[] {
  if (refrigerant === undefined || isMadeRefrigerant(refrigerant)) return [];
  const message = `${refrigerant} is no refrigerant; look at the plate again, or leave it out`;
  return [{ field: 'refrigerant', code: 'no_refrigerant', message }];
}

const spans = [
  { lowest: 'supplyVoltsMin', highest: 'supplyVoltsMax', of: 'supply voltage' },
  { lowest: 'startCapacitorUfMin', highest: 'startCapacitorUfMax', of: 'start capacitance' },
] as const satisfies { lowest: Figure; highest: Figure; of: string }[];

/** A range of which the low end is above the high one: the two were read the wrong way round. */
function turnedOver(
  nameplate: Nameplate,
  { lowest, highest, of }: (typeof spans)[number],
): NameplateRefusal[] {
  const [low, high] = [nameplate[lowest], nameplate[highest]];
  if (low === undefined || high === undefined || low <= high) return [];
  const message = `must not be above the highest ${of}, ${high} ${plateRanges[highest].unit}`;
  return [{ field: lowest, code: 'above_maximum', message }];
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

type Figure = keyof typeof plateRanges;
const figures = Object.keys(plateRanges) as Figure[];
