/** By UTF-16 code unit: the order of a language would differ between machines. */
export function compareText(a: string, b: string): number {
  if (a === b) return 0;
  return a < b ? -1 : 1;
}
