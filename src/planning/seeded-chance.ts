/** A source of chance that says the same after the same seed. */
export interface Chance {
  /** A whole number from 0 up to, but without, `below`. */
  below(below: number): number;
}

/** Mulberry32, by Tommy Ettinger (public domain): 32 bits of state, enough to shuffle a day. */
export function seededChance(seed: number): Chance {
  let state = seed >>> 0;
  return {
    below(below) {
      state = (state + 0x6d2b79f5) >>> 0;
      let mixed = Math.imul(state ^ (state >>> 15), state | 1);
      mixed ^= mixed + Math.imul(mixed ^ (mixed >>> 7), mixed | 61);
      return Math.floor((((mixed ^ (mixed >>> 14)) >>> 0) / 2 ** 32) * below);
    },
  };
}
