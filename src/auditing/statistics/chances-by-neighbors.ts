/**
 * The chance of each count from none to `countMax`, where it is known how much likelier each is than
 * the one before. The terms are built up from the most likely count and divided by their sum, so
 * that no factorial is needed and every term is right to a few units in the last places; those below
 * the smallest number there is come out as zero.
 * @param mode the most likely count
 * @param ratioTo how many times as likely a count is as the one before it
 */
export function chancesByNeighbors(
  countMax: number,
  mode: number,
  ratioTo: (count: number) => number,
): Float64Array {
  const chances = new Float64Array(countMax + 1);
  chances[mode] = 1;
  let total = 1;
  for (let count = mode + 1, term = 1; count <= countMax && term > 0; count += 1) {
    term *= ratioTo(count);
    chances[count] = term;
    total += term;
  }
  for (let count = mode, term = 1; count > 0 && term > 0; count -= 1) {
    term /= ratioTo(count);
    chances[count - 1] = term;
    total += term;
  }
  return chances.map((term) => term / total);
}
