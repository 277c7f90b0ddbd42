import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';
import { atmospherePsia } from './atmosphere.ts';
import type { RefrigerantCode } from './refrigerants.ts';
import { dewSlopeDegFPerPsi, dewTemperatureDegF } from './saturation.ts';

export type SuctionReadings = {
  refrigerant: RefrigerantCode;
  suctionPsig: number;
  suctionLineDegF: number;
  altitudeFt: number;
};

/**
 * Superheat in F: how much warmer the suction line is than the vapor about to condense in it, on
 * the dew line (definition; on the bubble line R-407C would show 11 F too much). Negative means
 * liquid in the line, or readings that do not belong together. Undefined when the pressure is
 * outside the table.
 * Worked: R-410A at sea level, 130 psig, line 57.0 F: dew 45.0 F -> 12.0 F.
 */
export function superheatDegF(readings: SuctionReadings): number | undefined {
  const dewDegF = dewTemperatureDegF(
    readings.refrigerant,
    readings.suctionPsig,
    atmospherePsia(readings.altitudeFt),
  );
  return dewDegF === undefined ? undefined : readings.suctionLineDegF - dewDegF;
}

/**
 * Superheat with its uncertainty from those of the gauge (psi) and the clamp (F): first-order
 * propagation of independent errors along the local slope of the dew line. Undefined when the
 * pressure is outside the table.
 * Worked: R-410A at 130 psig +/- 2 psi (0.412 F/psi), line +/- 1 F -> +/- 1.30 F.
 */
export function superheatWithUncertainty(
  readings: SuctionReadings,
  uncertainty: { suctionPsi: number; suctionLineDegF: number },
): { degF: number; uncertaintyDegF: number } | undefined {
  const degF = superheatDegF(readings);
  const slope = dewSlopeDegFPerPsi(
    readings.refrigerant,
    readings.suctionPsig,
    atmospherePsia(readings.altitudeFt),
  );
  if (degF === undefined || slope === undefined) return undefined;
  const fromPressure = slope * uncertainty.suctionPsi;
  return { degF, uncertaintyDegF: combineInQuadrature(fromPressure, uncertainty.suctionLineDegF) };
}
