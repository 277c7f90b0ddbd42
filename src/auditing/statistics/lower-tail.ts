/**
 * The chance of `count` or fewer, by the exact chance of each count. The smallest are added first, so
 * that none is lost beside the large.
 * @returns 0 for a count below none, 1 for one that holds all
 */
export function lowerTail(chances: Float64Array, count: number): number {
  if (count < 0) return 0;
  if (count >= chances.length - 1) return 1;
  const least = chances.slice(0, Math.floor(count) + 1).sort();
  return Math.min(
    1,
    least.reduce((sum, each) => sum + each, 0),
  );
}
