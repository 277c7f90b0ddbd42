/**
 * The middle of some values; of an even number the mean of the two in the middle.
 * @throws RangeError where there is none
 */
export function median(values: readonly number[]): number {
  const sorted = Float64Array.from(values).sort();
  const half = sorted.length / 2;
  const upper = sorted[Math.floor(half)];
  if (upper === undefined) throw new RangeError('Nothing has no middle.');
  return Number.isInteger(half) ? ((sorted[half - 1] ?? upper) + upper) / 2 : upper;
}
