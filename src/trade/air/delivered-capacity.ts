import { atmospherePsia } from '../refrigerant/atmosphere.ts';
import { sensibleBtuPerHour, totalBtuPerHour } from './air-heat.ts';
import { type Air, enthalpyBtuPerLb } from './moist-air.ts';

type Thermometers = Pick<Air, 'dryBulbDegF' | 'wetBulbDegF'>;

/** Positive is cooling. The total is the sum of the other two; its sensible share is undefined at zero. */
export type DeliveredCapacity = {
  totalBtuPerHour: number;
  sensibleBtuPerHour: number;
  latentBtuPerHour: number;
  sensibleHeatRatio: number | undefined;
};

/**
 * What the system takes out of the air between return and supply. The latent part is what the
 * sensible part leaves of the total, so that the three add up.
 * Undefined for air that cannot be (see `humidityRatio`) and where `airDensityRatio` is.
 * Source: ASHRAE enthalpies, 4.5 x CFM x dh and 1.08 x CFM x dT by density.
 * Worked: 1,200 CFM, 80/67 to 57/55 F at sea level -> 44,712 total, 29,808 sensible, ratio 0.667.
 */
export function deliveredCapacity(system: {
  airflowCfm: number;
  returnAir: Thermometers;
  supplyAir: Thermometers;
  altitudeFt: number;
}): DeliveredCapacity | undefined {
  const { airflowCfm, returnAir, supplyAir, altitudeFt } = system;
  const returnEnthalpy = enthalpyAt(returnAir, altitudeFt);
  const supplyEnthalpy = enthalpyAt(supplyAir, altitudeFt);
  if (returnEnthalpy === undefined || supplyEnthalpy === undefined) return undefined;
  const total = totalBtuPerHour(airflowCfm, returnEnthalpy - supplyEnthalpy, altitudeFt);
  const splitDegF = returnAir.dryBulbDegF - supplyAir.dryBulbDegF;
  const sensible = sensibleBtuPerHour(airflowCfm, splitDegF, altitudeFt);
  if (total === undefined || sensible === undefined) return undefined;
  return {
    totalBtuPerHour: total,
    sensibleBtuPerHour: sensible,
    latentBtuPerHour: total - sensible,
    sensibleHeatRatio: total === 0 ? undefined : sensible / total,
  };
}

/** One altitude gives both the pressure and the density, so that the two cannot disagree. */
function enthalpyAt(air: Thermometers, altitudeFt: number): number | undefined {
  return enthalpyBtuPerLb({ ...air, pressurePsia: atmospherePsia(altitudeFt) });
}
