import { chancesByNeighbors } from './chances-by-neighbors.ts';

/**
 * The chance of each count from none to all among independent trials of one chance each.
 * @param chance from 0 to 1
 * @throws RangeError for a number of trials that is not whole, or a chance that is none
 */
export function binomialChances(trials: number, chance: number): Float64Array {
  if (!Number.isInteger(trials) || trials < 0) throw new RangeError(`No trials: ${trials}.`);
  // Written so that NaN fails as well.
  if (!(chance >= 0 && chance <= 1)) throw new RangeError(`No chance: ${chance}.`);
  const mode = Math.min(trials, Math.floor((trials + 1) * chance));
  const odds = chance / (1 - chance);
  return chancesByNeighbors(trials, mode, (count) => ((trials - count + 1) / count) * odds);
}
