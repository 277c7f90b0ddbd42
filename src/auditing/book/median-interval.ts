import { binomialChances } from '../statistics/binomial-chances.ts';

export interface MedianInterval {
  readonly low: number;
  readonly high: number;
}

/** Outside on each side. */
const BEYOND = 0.025;

/**
 * From which to which of some values the middle of all that there could be lies, in at least 95 of
 * 100 cases, whatever their shape: each value lies below the middle with a chance of a half, so how
 * many do is binomial.
 *
 * Source: W. J. Conover, "Practical Nonparametric Statistics", confidence interval for a quantile;
 * from memory.
 * @returns null where there are too few values: fewer than six
 */
export function medianInterval(values: readonly number[]): MedianInterval | null {
  const sorted = Float64Array.from(values).sort();
  let upTo = 0;
  let from = 0;
  for (const chance of binomialChances(values.length, 0.5)) {
    upTo += chance;
    if (upTo > BEYOND) break;
    from += 1;
  }
  const [low, high] = [sorted[from - 1], sorted[values.length - from]];
  return low === undefined || high === undefined ? null : { low, high };
}
