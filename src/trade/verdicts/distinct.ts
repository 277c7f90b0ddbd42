/** Each text once, in the order they first appear. Made for short lists, where no set pays. */
export function distinct(texts: readonly string[]): string[] {
  const once: string[] = [];
  for (const text of texts) {
    if (!once.includes(text)) once.push(text);
  }
  return once;
}
