import { binomialChances } from './binomial-chances.ts';

/** Trials of one kind, each with the same chance. */
export interface Trials {
  trials: number;
  chance: number;
}

/**
 * The chance of each count among independent trials of several kinds: what a mix of jobs would
 * bring by itself, where each kind of job has a chance of its own. Exact: the kinds are folded into
 * each other one by one.
 */
export function countedChances(kinds: readonly Trials[]): Float64Array {
  return kinds
    .filter(({ trials }) => trials > 0)
    .map(({ trials, chance }) => binomialChances(trials, chance))
    .reduce(folded, Float64Array.of(1));
}

function folded(one: Float64Array, other: Float64Array): Float64Array {
  const both = new Float64Array(one.length + other.length - 1);
  for (const [i, a] of one.entries()) {
    if (a === 0) continue;
    for (const [j, b] of other.entries()) both[i + j] = (both[i + j] ?? 0) + a * b;
  }
  return both;
}
