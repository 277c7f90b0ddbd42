import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';

type MeasuredDegF = { degF: number; uncertaintyDegF: number };

/**
 * Return less supply dry bulb, F: positive when the system cools, negative when it heats. The two
 * errors count as independent, which one thermometer used at both places only improves.
 * Worked: 75.0 and 61.0, each good to 1.0 F -> 14.0 good to 1.4 F.
 */
export function temperatureSplit(returnAir: MeasuredDegF, supplyAir: MeasuredDegF): MeasuredDegF {
  return {
    degF: returnAir.degF - supplyAir.degF,
    uncertaintyDegF: combineInQuadrature(returnAir.uncertaintyDegF, supplyAir.uncertaintyDegF),
  };
}
