/**
 * The least the conductors must carry, in amps: 1.25 x the largest motor plus the others.
 * Source: from memory of NEC 440.32, 440.33 and 430.24; a manufacturer's manual has the formula.
 * Worked: 17.9 and 1.1 -> 23.475, printed as 23.5.
 */
export function minimumCircuitAmps(motorAmps: readonly number[]): number {
  return withLargestTimes(1.25, motorAmps);
}

/**
 * The largest breaker or fuse a unit may be on, in amps: the factor times its largest motor plus
 * the others, rounded down to a standard size, but never below 15. Plates use the 2.25 that is
 * allowed where a unit would not start on 1.75.
 * Source: from memory of NEC 440.22(A) and its exception.
 * Worked: 20 and 2.5 at 2.25 -> 47.5 -> 45; at 1.75 -> 37.5 -> 35.
 */
export function maximumBreakerAmps(motorAmps: readonly number[], factor: 1.75 | 2.25): number {
  const limit = withLargestTimes(factor, motorAmps);
  // A product that is a standard size exactly may come out a hair below it in floating point.
  const size = standardBreakerAmps.findLast((each) => each <= limit + 1e-9);
  return size ?? standardBreakerAmps[0];
}

export type BreakerFit = 'too_small' | 'fits' | 'too_large';

/** The breaker found beside the plate's MCA and MOCP, all in amps; both limits still fit. */
export function breakerFit(circuit: {
  mcaAmps: number;
  mocpAmps: number;
  breakerAmps: number;
}): BreakerFit {
  if (circuit.breakerAmps > circuit.mocpAmps) return 'too_large';
  return circuit.breakerAmps < circuit.mcaAmps ? 'too_small' : 'fits';
}

/**
 * The least rating of a unit's disconnect, in amps: 115 % of all its motors together.
 * Source: from memory of NEC 440.12; a manufacturer's manual has the 115 %.
 * Worked: 17.9 and 1.1 -> 21.85.
 */
export function disconnectAmpsMin(motorAmps: readonly number[]): number {
  return 1.15 * sum(motorAmps);
}

/**
 * The highest trip of a compressor's own overload, in amps: 140 % of its RLA for a relay, 125 % for
 * another device. Source: from memory of NEC 440.52. Worked: relay, 17.9 -> 25.06.
 */
export function compressorOverloadAmpsMax(rlaAmps: number, device: 'relay' | 'other'): number {
  return (device === 'relay' ? 1.4 : 1.25) * rlaAmps;
}

/**
 * The highest trip of a motor's overload, in amps: 125 % of its FLA with a service factor of 1.15
 * or a rise of 40 C at most, otherwise 115 %; 140 and 130 % where it would not start.
 * Source: from memory of NEC 430.32(A)(1) and (C). Worked: 10 A, service factor 1.0 -> 11.5.
 */
export function motorOverloadAmpsMax(motor: {
  flaAmps: number;
  serviceFactor?: number;
  riseDegC?: number;
  wouldNotStart?: boolean;
}): number {
  const { flaAmps, serviceFactor = 1, riseDegC = Infinity, wouldNotStart = false } = motor;
  const isRobust = serviceFactor >= 1.15 || riseDegC <= 40;
  if (wouldNotStart) return (isRobust ? 1.4 : 1.3) * flaAmps;
  return (isRobust ? 1.25 : 1.15) * flaAmps;
}

/**
 * Standard sizes of breakers, amps; 55 and 65 are none. Source: reprints of NEC 240.6(A) up to 600,
 * above that from memory of it.
 */
export const standardBreakerAmps = [
  15, 20, 25, 30, 35, 40, 45, 50, 60, 70, 80, 90, 100, 110, 125, 150, 175, 200, 225, 250, 300, 350,
  400, 450, 500, 600, 700, 800, 1000, 1200,
] as const;

function withLargestTimes(factor: number, motorAmps: readonly number[]): number {
  if (motorAmps.length === 0) return 0;
  return sum(motorAmps) + (factor - 1) * Math.max(...motorAmps);
}

function sum(amps: readonly number[]): number {
  return amps.reduce((total, each) => total + each, 0);
}
