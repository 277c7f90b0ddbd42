import { combineInQuadrature } from '../uncertainty/combine-in-quadrature.ts';

/** The frequency of the North American grid; its drift of some 0.05 Hz is below any meter here. */
const lineHertz = 60;

/**
 * Capacitance in uF of a capacitor that passes `amps` under `volts` (both rms) at 60 Hz.
 * First principles: the reactance is Xc = V/I = 1/(2*pi*f*C).
 * Worked: 6.30 A, 371 V -> 45.04 uF.
 */
export function runningCapacitanceUf(amps: number, volts: number): number {
  return (amps * 1e6) / (2 * Math.PI * lineHertz * volts);
}

/**
 * Uncertainty in uF of `runningCapacitanceUf` from those of its current and voltage: first-order
 * propagation of independent errors, written without a division by the current, which may be small.
 */
export function runningCapacitanceUncertaintyUf(
  current: { amps: number; uncertainty: number },
  voltage: { volts: number; uncertainty: number },
): number {
  const fromCurrent = runningCapacitanceUf(current.uncertainty, voltage.volts);
  const capacitanceUf = runningCapacitanceUf(current.amps, voltage.volts);
  const fromVoltage = (capacitanceUf * voltage.uncertainty) / voltage.volts;
  return combineInQuadrature(fromCurrent, fromVoltage);
}
