import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { atmospherePsia } from './atmosphere.ts';
import type { RefrigerantCode } from './refrigerants.ts';
import { bubbleSlopeDegFPerPsi, bubbleTemperatureDegF } from './saturation.ts';

export type CondensingReadings = {
  refrigerant: RefrigerantCode;
  liquidPsig: number;
  outdoorDegF: number;
  altitudeFt: number;
};

/**
 * How far condensing is above the outdoor air, F. Condensing is taken on the bubble line, as gauges
 * show it; the middle of a glide would be higher, by some 4 F for R-407C and 1.3 F for R-454B.
 * Undefined when the pressure is outside the table.
 * Worked: R-410A at sea level, 365 psig is 110 F (109.7); 95 F outdoors -> 15 F (14.7).
 */
export function condensingOverAmbientDegF(readings: CondensingReadings): number | undefined {
  const bubbleDegF = bubbleTemperatureDegF(
    readings.refrigerant,
    readings.liquidPsig,
    atmospherePsia(readings.altitudeFt),
  );
  return bubbleDegF === undefined ? undefined : bubbleDegF - readings.outdoorDegF;
}

/** The same with its uncertainty from those of the gauge (psi) and the thermometer (F). */
export function condensingOverAmbientWithUncertainty(
  readings: CondensingReadings,
  uncertainty: { liquidPsi: number; outdoorDegF: number },
): { degF: number; uncertaintyDegF: number } | undefined {
  const degF = condensingOverAmbientDegF(readings);
  const slope = bubbleSlopeDegFPerPsi(
    readings.refrigerant,
    readings.liquidPsig,
    atmospherePsia(readings.altitudeFt),
  );
  if (degF === undefined || slope === undefined) return undefined;
  const fromPressure = slope * uncertainty.liquidPsi;
  return { degF, uncertaintyDegF: combineInQuadrature(fromPressure, uncertainty.outdoorDegF) };
}
