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
  return hasAllOf(one, other) && hasAllOf(other, one);
}

type Plain = Readonly<Record<string, unknown>>;

function isObject(value: unknown): value is Plain {
  return typeof value === 'object' && value !== null;
}

function hasAllOf(one: Plain, other: Plain): boolean {
  for (const key in one) {
    if (!names.has(key) && !sameTerms(one[key], other[key])) return false;
  }
  return true;
}
