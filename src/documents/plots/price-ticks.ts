/**
 * Round dollars from the last one below all prices to the first one above them, in steps of 1, 2 and 5
 * times a power of ten; where those are too many to be read, in powers of ten alone.
 */
export function priceTicks(dollars: readonly number[]): readonly [number, ...number[]] {
  // One after the other: as arguments of one call, the prices of a hundred thousand jobs are too many.
  const least = Math.max(
    LEAST,
    dollars.reduce((low, each) => Math.min(low, each), MOST),
  );
  const most = dollars.reduce((high, each) => Math.max(high, each), least);
  const fine = ticksAround(least, most, [1, 2, 5]);
  return fine.length <= TICKS_MAX ? fine : ticksAround(least, most, [1]);
}

/** Below a dollar nothing is priced. */
const LEAST = 1;
const MOST = 1_000_000_000;
/** As many as stand beside each other below a plot. */
const TICKS_MAX = 12;

function ticksAround(
  least: number,
  most: number,
  steps: readonly number[],
): readonly [number, ...number[]] {
  const powers = Array.from({ length: 11 }, (_, power) => 10 ** power);
  const all = powers.flatMap((power) => steps.map((step) => step * power));
  const below = all.filter((each) => each <= least);
  const from = below.at(-1) ?? LEAST;
  const above = all.find((each) => each >= most && each > from) ?? 10 * from;
  return [from, ...all.filter((each) => each > from && each <= above)];
}
