import { compareWithLimit } from '../uncertainty/compare-with-limit.ts';

/**
 * Total external static pressure in inches of water: what the blower works against, the suction of
 * the return plus the pressure of the supply. The return counts by its size, as some gauges show it
 * with its minus and some without. Source: a published field-formula page.
 * Worked: -0.22 and 0.31 -> 0.53.
 */
export function totalExternalStaticInH2O(returnInH2O: number, supplyInH2O: number): number {
  return Math.abs(returnInH2O) + supplyInH2O;
}

/** What the static pressure is held against, and whose figure that is. */
export type ExternalStaticLimit = { limitInH2O: number; basis: 'plate' | 'usual' };

/**
 * The blower's own limit where its plate is known, otherwise the 0.50 in. w.c. that most
 * residential blowers are rated at (a published field-formula page), said to be just that.
 */
export function externalStaticLimit(plateInH2O: number | undefined): ExternalStaticLimit {
  if (plateInH2O !== undefined) return { limitInH2O: plateInH2O, basis: 'plate' };
  return { limitInH2O: 0.5, basis: 'usual' };
}

/**
 * The static pressure beside its limit, and in percent of it; 'within' when the gauge cannot tell.
 * Worked: 0.53 good to 0.02 at the usual 0.50 -> above, 106 %.
 */
export function judgeExternalStatic(
  measured: { inH2O: number; uncertaintyInH2O: number },
  { limitInH2O }: ExternalStaticLimit,
): { verdict: 'below' | 'above' | 'within'; percentOfLimit: number } {
  return {
    verdict: compareWithLimit(
      { value: measured.inH2O, uncertainty: measured.uncertaintyInH2O },
      limitInH2O,
    ),
    percentOfLimit: (measured.inH2O / limitInH2O) * 100,
  };
}
