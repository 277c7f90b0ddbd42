/**
 * The chance of each sum of counts that know nothing of each other, from the chance of each count:
 * exact, one folded into the next.
 */
export function addedChances(counts: readonly Float64Array[]): Float64Array {
  return counts.reduce(folded, Float64Array.of(1));
}

function folded(one: Float64Array, other: Float64Array): Float64Array {
  const both = new Float64Array(one.length + other.length - 1);
  for (const [i, a] of one.entries()) {
    if (a === 0) continue;
    for (const [j, b] of other.entries()) both[i + j] = (both[i + j] ?? 0) + a * b;
  }
  return both;
}
