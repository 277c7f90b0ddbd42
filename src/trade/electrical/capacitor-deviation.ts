import { runningCapacitanceUf } from './running-capacitance.ts';

/**
 * How far a capacitor is from its rating, in percent; minus is weak.
 * Worked: 32.29 of 35 uF -> -7.74 %.
 */
export function capacitorDeviationPercent(measuredUf: number, ratedUf: number): number {
  return (measuredUf / ratedUf - 1) * 100;
}

/**
 * The current a sound capacitor passes under this voltage, in amps: the reverse of
 * `runningCapacitanceUf`. Worked: 45 uF at 370 V -> 6.277 A.
 */
export function capacitorAmps(capacitanceUf: number, volts: number): number {
  return capacitanceUf / runningCapacitanceUf(1, volts);
}

/** First principles: Xc = 1/(2*pi*f*C) at 60 Hz, in ohms. Worked: 45 uF -> 58.95 ohm. */
export function capacitorReactanceOhms(capacitanceUf: number): number {
  return runningCapacitanceUf(1, 1) / capacitanceUf;
}
