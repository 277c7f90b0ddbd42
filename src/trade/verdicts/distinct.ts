/** Each text once, in the order they first appear. */
export function distinct(texts: readonly string[]): string[] {
  // Most lists here hold one text or none, and a set of so few costs more than it saves.
  return texts.length < 2 ? [...texts] : [...new Set(texts)];
}
