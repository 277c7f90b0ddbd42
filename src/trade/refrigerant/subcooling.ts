import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { atmospherePsia } from './atmosphere.ts';
import type { RefrigerantCode } from './refrigerants.ts';
import { bubbleSlopeDegFPerPsi, bubbleTemperatureDegF } from './saturation.ts';

export type LiquidReadings = {
  refrigerant: RefrigerantCode;
  liquidPsig: number;
  liquidLineDegF: number;
  altitudeFt: number;
};

/**
 * Subcooling in F: how much colder the liquid line is than the liquid about to boil in it, on the
 * bubble line (definition). Negative means vapor in the line, or readings that do not belong
 * together. Undefined when the pressure is outside the table.
 * Worked: R-410A at sea level, 365 psig, line 98.0 F: bubble 109.7 F -> 11.7 F; a manufacturer's
 * chart rounds the 365 psig to 110 F, which gives 12.
 */
export function subcoolingDegF(readings: LiquidReadings): number | undefined {
  const bubbleDegF = bubbleTemperatureDegF(
    readings.refrigerant,
    readings.liquidPsig,
    atmospherePsia(readings.altitudeFt),
  );
  return bubbleDegF === undefined ? undefined : bubbleDegF - readings.liquidLineDegF;
}

/**
 * Subcooling with its uncertainty from those of the gauge (psi) and the clamp (F): first-order
 * propagation of independent errors along the local slope of the bubble line. Undefined when the
 * pressure is outside the table.
 * Worked: R-410A at 365 psig +/- 5 psi (0.199 F/psi), line +/- 1 F -> +/- 1.41 F.
 */
export function subcoolingWithUncertainty(
  readings: LiquidReadings,
  uncertainty: { liquidPsi: number; liquidLineDegF: number },
): { degF: number; uncertaintyDegF: number } | undefined {
  const degF = subcoolingDegF(readings);
  const slope = bubbleSlopeDegFPerPsi(
    readings.refrigerant,
    readings.liquidPsig,
    atmospherePsia(readings.altitudeFt),
  );
  if (degF === undefined || slope === undefined) return undefined;
  const fromPressure = slope * uncertainty.liquidPsi;
  return { degF, uncertaintyDegF: combineInQuadrature(fromPressure, uncertainty.liquidLineDegF) };
}
