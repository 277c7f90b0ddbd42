/**
 * What a chance found among many is worth when all of them were looked at: the adjusted values of
 * Benjamini and Hochberg. Whoever flags those at most `q` has among the flagged, on average over
 * many looks, a share of at most `q` that came by chance alone.
 *
 * Source: Y. Benjamini, Y. Hochberg, "Controlling the False Discovery Rate", Journal of the Royal
 * Statistical Society B 57 (1995), from memory; its example is a test.
 * @param chances each from 0 to 1, in any order
 * @returns in the order given
 */
export function adjustedForMany(chances: readonly number[]): number[] {
  const largestFirst = chances
    .map((chance, at) => ({ chance, at }))
    .sort((one, other) => other.chance - one.chance);
  const adjusted = new Array<number>(chances.length).fill(1);
  let least = 1;
  for (const [passed, { chance, at }] of largestFirst.entries()) {
    least = Math.min(least, chance * (chances.length / (chances.length - passed)));
    adjusted[at] = least;
  }
  return adjusted;
}
