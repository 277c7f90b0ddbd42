/**
 * Round figures from 0 to the first one that is not below `most`: steps of 1, 2 or 5 times a power
 * of ten, about so many of them as asked for, at least one.
 */
export function ticksTo(most: number, wanted = 5): readonly [number, ...number[]] {
  const rough = (most > 0 ? most : 1) / wanted;
  const power = 10 ** Math.floor(Math.log10(rough));
  const step = [1, 2, 5, 10].map((each) => each * power).find((each) => each >= rough * 0.999);
  const width = step ?? power * 10;
  const count = Math.max(1, Math.ceil(most / width - 1e-9));
  return [0, ...Array.from({ length: count }, (_, at) => tidy((at + 1) * width))];
}

/**
 * Round shares around all from `least` to `most`: from nothing, or, where all of them are more than
 * half, up to 100%. On a scale from nothing 96% and 98% could not be told apart.
 */
export function shareTicks(least: number, most: number): readonly [number, ...number[]] {
  if (least <= 0.5) return ticksTo(Math.min(1, Math.max(most, LEAST_SHARE)));
  const [last = 0, ...others] = ticksTo(Math.max(1 - least, LEAST_SHARE))
    .map((each) => tidy(1 - each))
    .reverse();
  return [last, ...others];
}

/** A scale of a hundredth is as fine as anybody reads. */
const LEAST_SHARE = 0.01;

/** Without the dust of binary fractions: 0.30000000000000004 is 0.3. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
