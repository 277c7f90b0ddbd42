/**
 * What is less likely than that is left out: it changes no chance that anybody looks at, and the
 * smallest numbers there are take a hundred times as long to multiply.
 */
const LEAST = 1e-100;

/**
 * The chance of each sum of counts that know nothing of each other, from the chance of each count:
 * exact but for what lies below one in a googol, one folded into the next.
 */
export function addedChances(counts: readonly Float64Array[]): Float64Array {
  return counts.reduce(folded, Float64Array.of(1));
}

function folded(one: Float64Array, other: Float64Array): Float64Array {
  const both = new Float64Array(one.length + other.length - 1);
  const [from, to] = likelyRange(other);
  const likely = other.subarray(from, to);
  for (const [i, a] of one.entries()) {
    if (a < LEAST) continue;
    // A plain loop, because this is where all the time of a comparison goes.
    for (let j = 0; j < likely.length; j += 1) {
      both[i + from + j] = (both[i + from + j] ?? 0) + a * (likely[j] ?? 0);
    }
  }
  return both;
}

/** From the first likely count to after the last: between them all are, as chances have one peak. */
function likelyRange(chances: Float64Array): [from: number, to: number] {
  const from = chances.findIndex((each) => each >= LEAST);
  return [Math.max(0, from), chances.findLastIndex((each) => each >= LEAST) + 1];
}
