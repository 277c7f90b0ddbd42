/** Numbers from 0 to 1 that are the same again for the same seed (a linear congruence, modulo 2^32). */
export function seeded(seed: number): () => number {
  let state = seed >>> 0;
  return () => {
    state = (Math.imul(state, 1_664_525) + 1_013_904_223) >>> 0;
    return state / 2 ** 32;
  };
}
