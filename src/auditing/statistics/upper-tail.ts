/**
 * The chance of `count` or more, by the exact chance of each count. The smallest are added first, so
 * that none is lost beside the large.
 * @returns 1 for a count of none, 0 for one that cannot be reached
 */
export function upperTail(chances: Float64Array, count: number): number {
  if (count <= 0) return 1;
  const least = chances.slice(Math.ceil(count)).sort();
  return Math.min(
    1,
    least.reduce((sum, each) => sum + each, 0),
  );
}
