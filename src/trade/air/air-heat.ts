import { airDensityRatio } from './air-density-ratio.ts';

/**
 * Btu/h that air gains or loses with its temperature: 1.08 x CFM x difference at sea level, less
 * where the air is thinner. Undefined where `airDensityRatio` is.
 * Source: 1.08 = 60 min/h x 0.075 lb/ft3 x 0.24 Btu/(lb F), standard air; a field-formula page
 * derives it. Worked: 1,200 CFM, 20 F, sea level -> 25,920 Btu/h.
 */
export function sensibleBtuPerHour(
  airflowCfm: number,
  differenceDegF: number,
  altitudeFt: number,
): number | undefined {
  return atAltitude(1.08 * airflowCfm * differenceDegF, altitudeFt);
}

/**
 * Btu/h that air gains or loses in all, moisture included: 4.5 x CFM x difference of enthalpy at
 * sea level. Undefined where `airDensityRatio` is.
 * Source: 4.5 = 60 min/h x 0.075 lb/ft3, standard air. Worked: 1,200 CFM, 8.28 Btu/lb -> 44,712.
 */
export function totalBtuPerHour(
  airflowCfm: number,
  differenceBtuPerLb: number,
  altitudeFt: number,
): number | undefined {
  return atAltitude(4.5 * airflowCfm * differenceBtuPerLb, altitudeFt);
}

function atAltitude(seaLevelBtuPerHour: number, altitudeFt: number): number | undefined {
  const ratio = airDensityRatio(altitudeFt);
  return ratio === undefined ? undefined : ratio * seaLevelBtuPerHour;
}
