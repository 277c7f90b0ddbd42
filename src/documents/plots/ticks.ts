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

/** Without the dust of binary fractions: 0.30000000000000004 is 0.3. */
function tidy(value: number): number {
  return Number(value.toPrecision(12));
}
