/** What a line is called changes no price. */
const names: ReadonlySet<string> = new Set(['name', 'taskName', 'title']);

/**
 * Whether two plain values that prices depend on are the same, whatever things are called in them.
 * Comparing takes a few microseconds where pricing takes a hundred. What is absent and what is
 * undefined are the same.
 */
export function sameTerms(one: unknown, other: unknown): boolean {
  if (Object.is(one, other)) return true;
  if (!isObject(one) || !isObject(other)) return false;
  if (Array.isArray(one) !== Array.isArray(other)) return false;
  for (const key in one) {
    if (!names.has(key) && !sameTerms(one[key], other[key])) return false;
  }
  // All that the one has is the same; the other must not have more.
  for (const key in other) {
    if (!names.has(key) && one[key] === undefined && other[key] !== undefined) return false;
  }
  return true;
}

type Plain = Readonly<Record<string, unknown>>;

function isObject(value: unknown): value is Plain {
  return typeof value === 'object' && value !== null;
}
