import { median } from './median.ts';

/** A score beyond this, up or down, stands out from the rest (Iglewicz and Hoaglin). */
export const STANDS_OUT_ABOVE = 3.5;

/**
 * How far each amount stands from the middle of all, in units that a few strange amounts cannot
 * stretch: 0.6745 x (value - median) / median of the absolute deviations. Where more than half are
 * equal that median is zero, and the mean of the absolute deviations stands in with its own factor;
 * where all are equal nothing stands out.
 *
 * Source: B. Iglewicz, D. Hoaglin, "How to Detect and Handle Outliers" (1993), as the NIST/SEMATECH
 * e-Handbook of Statistical Methods 1.3.5.17 has it; the mean's factor 1.253314 from memory.
 * @returns in the order given
 */
export function robustScores(values: readonly number[]): number[] {
  if (values.length === 0) return [];
  const middle = median(values);
  const off = values.map((value) => Math.abs(value - middle));
  const scale = median(off) / 0.6745 || 1.253314 * (sumOf(off) / off.length);
  return values.map((value) => (scale === 0 ? 0 : (value - middle) / scale));
}

function sumOf(values: readonly number[]): number {
  return values.reduce((sum, each) => sum + each, 0);
}
