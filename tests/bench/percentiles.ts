/** The middle, and what all but one in a hundred stay below. */
export interface Percentiles {
  p50: number;
  p99: number;
}

/** Nearest-rank percentiles: each is a value that was really measured. */
export function percentilesOf(values: readonly number[]): Percentiles {
  const sorted = values.toSorted((a, b) => a - b);
  const rank = (share: number) => sorted[Math.max(0, Math.ceil(share * sorted.length) - 1)];
  return { p50: rounded(rank(0.5)), p99: rounded(rank(0.99)) };
}

export function medianOf(values: readonly number[]): number {
  return percentilesOf(values).p50;
}

/** Three decimals are more than any of these measurements can tell apart. */
export function rounded(value: number | undefined): number {
  return Math.round((value ?? Number.NaN) * 1_000) / 1_000;
}
