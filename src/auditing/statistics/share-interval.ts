/** The 97.5 % point of the normal distribution: 95 % lie between it and its negative. */
const Z_95 = 1.959963984540054;

/** A share that was counted, with the range in which the true one lies nineteen times of twenty. */
export interface ShareInterval {
  low: number;
  high: number;
}

/**
 * The score interval of E. B. Wilson (1927) without a correction, which R. G. Newcombe, "Two-sided
 * confidence intervals for the single proportion", Statistics in Medicine 17 (1998), has as method 3.
 * @throws RangeError without a trial, or for more than all
 */
export function shareInterval(count: number, trials: number): ShareInterval {
  if (!(trials > 0 && count >= 0 && count <= trials)) {
    throw new RangeError(`No share: ${count} of ${trials}.`);
  }
  const share = count / trials;
  const square = Z_95 ** 2;
  const center = share + square / (2 * trials);
  const half = Z_95 * Math.sqrt((share * (1 - share)) / trials + square / (4 * trials ** 2));
  const whole = 1 + square / trials;
  return {
    // At the ends the two terms are equal, and their difference must not fall below by a rounding.
    low: count === 0 ? 0 : (center - half) / whole,
    high: count === trials ? 1 : (center + half) / whole,
  };
}
