import { sensibleBtuPerHour } from './air-heat.ts';

/**
 * CFM that carries a known heat when it warms (or cools) the air by a measured difference.
 * Undefined without a difference, and where `airDensityRatio` is.
 * Source: q = 1.08 x CFM x dT solved for CFM. Worked: 24,000 Btu/h at 20 F, sea level -> 1,111 CFM.
 */
export function airflowFromRiseCfm(
  heatBtuPerHour: number,
  riseDegF: number,
  altitudeFt: number,
): number | undefined {
  const perCfm = sensibleBtuPerHour(1, riseDegF, altitudeFt);
  return perCfm !== undefined && perCfm > 0 ? heatBtuPerHour / perCfm : undefined;
}

/**
 * CFM through a fuel furnace, from its input rate and its efficiency as a share of 1.
 * Source: a published field procedure, output/(1.08 x rise), output = input x efficiency.
 * Worked: 80,000 Btu/h at 0.80, rise 40 F, sea level -> 1,481 CFM.
 */
export function furnaceAirflowCfm(furnace: {
  inputBtuPerHour: number;
  efficiency: number;
  riseDegF: number;
  altitudeFt: number;
}): number | undefined {
  const outputBtuPerHour = furnace.inputBtuPerHour * furnace.efficiency;
  return airflowFromRiseCfm(outputBtuPerHour, furnace.riseDegF, furnace.altitudeFt);
}

/**
 * CFM over electric heat strips. The power is measured (volts x amps), as strips give less than
 * their plate says on a low supply. Source: first principles, 1 kW = 3,412 Btu/h.
 * Worked: 10 kW, rise 25 F, sea level -> 1,264 CFM.
 */
export function electricHeatAirflowCfm(strips: {
  powerKw: number;
  riseDegF: number;
  altitudeFt: number;
}): number | undefined {
  return airflowFromRiseCfm(strips.powerKw * 3412, strips.riseDegF, strips.altitudeFt);
}
