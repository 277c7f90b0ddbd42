/** Invented chance that can be told again: the same seed, stream and index give the same draws. */
export interface Random {
  /** 32 bits, as an unsigned integer. */
  bits(): number;
  /** A whole number from `low` to `high`, both included. */
  int(low: number, high: number): number;
  /** A number from `low` up to but not including `high`. */
  between(low: number, high: number): number;
  chance(share: number): boolean;
  /** One of a list that has at least one. */
  pick<T extends readonly [unknown, ...unknown[]]>(from: T): T[number];
}

/**
 * The generator xoshiro128** 1.1 of Blackman and Vigna (in the public domain). Every place and
 * every ticket has one of its own, so that none depends on how many draws another took.
 */
export function randomFor(seed: number, stream: string, index: number): Random {
  let [a, b, c, d] = stateOf(seed, stream, index);
  const bits = () => {
    const result = Math.imul(rotate(Math.imul(b, 5), 7), 9) >>> 0;
    const t = b << 9;
    c ^= a;
    d ^= b;
    b ^= c;
    a ^= d;
    c ^= t;
    d = rotate(d, 11);
    return result;
  };
  const share = () => bits() / 4_294_967_296;
  return {
    bits,
    int: (low, high) => low + Math.floor(share() * (high - low + 1)),
    between: (low, high) => low + share() * (high - low),
    chance: (likely) => share() < likely,
    pick: (from) => from[Math.floor(share() * from.length)],
  };
}

function rotate(word: number, by: number): number {
  return (word << by) | (word >>> (32 - by));
}

type State = [number, number, number, number];

/** Four words that differ wherever any of the three names differs. */
function stateOf(seed: number, stream: string, index: number): State {
  let hash = mix(seed | 0);
  for (const letter of stream) hash = mix(hash ^ (letter.codePointAt(0) ?? 0));
  hash = mix(hash ^ index);
  const words = [1, 2, 3].map((at) => mix(hash ^ Math.imul(at, 0x9e3779b9) ^ mix(index + at)));
  // All zero is the one state the generator cannot leave; the last word keeps it away.
  return [words[0] ?? 1, words[1] ?? 1, words[2] ?? 1, index | 1];
}

/** The finalizer of MurmurHash3 (in the public domain): every input bit turns half of the output. */
function mix(word: number): number {
  let mixed = word;
  mixed = Math.imul(mixed ^ (mixed >>> 16), 0x85ebca6b);
  mixed = Math.imul(mixed ^ (mixed >>> 13), 0xc2b2ae35);
  return mixed ^ (mixed >>> 16);
}
