import psychrolib from 'psychrolib';

// The library keeps its unit system in one global; it is set here once, and nobody else imports it.
psychrolib.SetUnitSystem(psychrolib.IP);

/** Air as two thermometers tell it, at the pressure of the place in psia. */
export type Air = { dryBulbDegF: number; wetBulbDegF: number; pressurePsia: number };

/**
 * Pounds of water per pound of dry air. Undefined for air that cannot be: a wet bulb above the dry
 * bulb, or lower than even bone-dry air could show, or figures outside `airRange`.
 * Source of all functions here: ASHRAE Handbook Fundamentals, chapter 1, ideal-gas equations.
 * Worked: 80/67 F at 14.696 psia -> 0.01117.
 */
export function humidityRatio({ dryBulbDegF, wetBulbDegF, pressurePsia }: Air): number | undefined {
  if (!isWithin(airRange.degF, dryBulbDegF) || !isWithin(airRange.degF, wetBulbDegF)) return;
  if (!isWithin(airRange.psia, pressurePsia) || wetBulbDegF > dryBulbDegF) return;
  const ratio = psychrolib.GetHumRatioFromTWetBulb(dryBulbDegF, wetBulbDegF, pressurePsia);
  return ratio > leastHumidityRatio ? ratio : undefined;
}

/** Percent of saturation. Undefined as for `humidityRatio`. Worked: 80/67 F, 14.696 psia -> 51.1 %. */
export function relativeHumidityPercent(air: Air): number | undefined {
  const ratio = humidityRatio(air);
  if (ratio === undefined) return;
  const share = psychrolib.GetRelHumFromHumRatio(air.dryBulbDegF, ratio, air.pressurePsia);
  // Saturated air comes out a rounding error above 1, which `wetBulbDegF` would refuse.
  return 100 * Math.min(share, 1);
}

/**
 * Btu per pound of dry air, zero for dry air at 0 F. Undefined as for `humidityRatio`.
 * Worked: 80/67 F at 14.696 psia -> 31.45.
 */
export function enthalpyBtuPerLb(air: Air): number | undefined {
  const ratio = humidityRatio(air);
  return ratio === undefined ? undefined : psychrolib.GetMoistAirEnthalpy(air.dryBulbDegF, ratio);
}

/** Where this air begins to sweat, F. Undefined as for `humidityRatio`. Worked: 80/67 F -> 60.3. */
export function dewPointDegF(air: Air): number | undefined {
  const ratio = humidityRatio(air);
  if (ratio === undefined) return;
  return psychrolib.GetTDewPointFromHumRatio(air.dryBulbDegF, ratio, air.pressurePsia);
}

/** Cubic feet per pound of dry air. Undefined as for `humidityRatio`. Worked: 80/67 F -> 13.85. */
export function specificVolumeFt3PerLb(air: Air): number | undefined {
  const ratio = humidityRatio(air);
  if (ratio === undefined) return;
  return psychrolib.GetMoistAirVolume(air.dryBulbDegF, ratio, air.pressurePsia);
}

/**
 * Wet bulb in F of air whose humidity was read in percent, good to 0.002 F. Undefined outside
 * `airRange` and for a humidity outside 0 to 100 %. Worked: 80 F, 51.1 %, 14.696 psia -> 67.0.
 */
export function wetBulbDegF(air: {
  dryBulbDegF: number;
  relativeHumidityPercent: number;
  pressurePsia: number;
}): number | undefined {
  const { dryBulbDegF, pressurePsia } = air;
  if (!isWithin(airRange.degF, dryBulbDegF) || !isWithin(airRange.psia, pressurePsia)) return;
  if (!isWithin({ low: 0, high: 100 }, air.relativeHumidityPercent)) return;
  const share = air.relativeHumidityPercent / 100;
  return psychrolib.GetTWetBulbFromRelHum(dryBulbDegF, share, pressurePsia);
}

/**
 * Air that is answered for: every climate people live in, up to 15,000 ft. The library itself
 * reaches from -148 to 392 F, but throws or cuts off where water would boil.
 */
export const airRange = { degF: { low: -40, high: 150 }, psia: { low: 8, high: 16 } } as const;

/** The library returns this instead of a ratio of zero or less, which no air has. */
const leastHumidityRatio = 1e-7;

function isWithin({ low, high }: { low: number; high: number }, value: number): boolean {
  return value >= low && value <= high;
}
