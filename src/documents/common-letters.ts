/** The letters of English and Spanish and of their neighbors' names, figures and signs. */
export const commonLetters: readonly string[] = [
  ...charactersFrom(0x20, 0x7e),
  ...charactersFrom(0xa1, 0xac),
  ...charactersFrom(0xae, 0xff),
  ...'–—‘’‚“”„•…−μΩΔ□≤≥≈→€™',
];

function charactersFrom(first: number, last: number): string[] {
  return Array.from({ length: last - first + 1 }, (_, at) => String.fromCodePoint(first + at));
}
