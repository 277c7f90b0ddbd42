import type { Band } from '../uncertainty/compare-with-band.ts';

/** What a unit may be fed with, and whose figures those are. */
export type SupplyBand = { band: Band; basis: 'plate' | 'usual_208_230' };

/**
 * The supply a unit is made for, in volts: its plate's lowest and highest, either of which may be
 * missing; where the plate says neither, the 187 to 253 V of a usual single-phase 208/230 V unit
 * (208 V less 10 % to 230 V plus 10 %, from memory of usual plates), said to be just that.
 * Undefined for three phases without a plate, as those may be 208, 230 or 460 V.
 */
export function supplyBand(plate: {
  supplyVoltsMin?: number | undefined;
  supplyVoltsMax?: number | undefined;
  phase?: 1 | 3 | undefined;
}): SupplyBand | undefined {
  const { supplyVoltsMin: low, supplyVoltsMax: high, phase } = plate;
  if (low !== undefined || high !== undefined) {
    const band = { ...(low !== undefined && { low }), ...(high !== undefined && { high }) };
    return { band, basis: 'plate' };
  }
  if (phase === 3) return undefined;
  return { band: { low: 187, high: 253 }, basis: 'usual_208_230' };
}

/**
 * What the utility may deliver at the service, in volts: range A is the usual, range B is tolerated
 * for short and rare times. Source: from memory of ANSI C84.1, on a 120 V base.
 * Worked: 240 V -> A 228 to 252, B 220 to 254.
 */
export function serviceBand(nominalVolts: number, range: 'a' | 'b'): Required<Band> {
  const { low, high } = serviceBandOn120[range];
  return { low: onBase(nominalVolts, low), high: onBase(nominalVolts, high) };
}

/**
 * The least a unit may see at its own terminals, in volts. Source: from memory of ANSI C84.1, on a
 * 120 V base (older editions: 110 and 106 V). Worked: 240 V -> A 216, B 208.
 */
export function utilizationVoltsMin(nominalVolts: number, range: 'a' | 'b'): number {
  return onBase(nominalVolts, utilizationMinOn120[range]);
}

const serviceBandOn120 = { a: { low: 114, high: 126 }, b: { low: 110, high: 127 } } as const;
const utilizationMinOn120 = { a: 108, b: 104 } as const;

function onBase(nominalVolts: number, voltsOn120: number): number {
  return (nominalVolts * voltsOn120) / 120;
}
