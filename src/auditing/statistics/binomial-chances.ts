/**
 * The chance of each count from none to all among independent trials of one chance each.
 *
 * The terms are built up from the most likely count by the ratio of neighbors and divided by their
 * sum, so that no factorial is needed and every term is right to a few units in the last places;
 * those below the smallest number there is come out as zero.
 * @param chance from 0 to 1
 * @throws RangeError for a number of trials that is not whole, or a chance that is none
 */
export function binomialChances(trials: number, chance: number): Float64Array {
  if (!Number.isInteger(trials) || trials < 0) throw new RangeError(`No trials: ${trials}.`);
  // Written so that NaN fails as well.
  if (!(chance >= 0 && chance <= 1)) throw new RangeError(`No chance: ${chance}.`);
  const chances = new Float64Array(trials + 1);
  const mode = Math.min(trials, Math.floor((trials + 1) * chance));
  chances[mode] = 1;
  const odds = chance / (1 - chance);
  let total = 1;
  for (let count = mode, term = 1; count < trials && term > 0; count += 1) {
    term *= ((trials - count) / (count + 1)) * odds;
    chances[count + 1] = term;
    total += term;
  }
  for (let count = mode, term = 1; count > 0 && term > 0; count -= 1) {
    term *= count / ((trials - count + 1) * odds);
    chances[count - 1] = term;
    total += term;
  }
  return chances.map((term) => term / total);
}
