/** One place in which two pieces of JSON differ. */
export interface JsonDifference {
  /** Names joined by dots: 'why.steps.0.cents'. */
  readonly what: string;
  readonly stored: string;
  readonly now: string;
}

/**
 * Every place in which two pieces of JSON differ, down to single values. What is absent and what is
 * undefined are the same, as they are in JSON.
 * @param what the name of what is compared; empty for members that need no name before theirs
 */
export function jsonDifferences(what: string, stored: unknown, now: unknown): JsonDifference[] {
  if (isTree(stored) && isTree(now) && Array.isArray(stored) === Array.isArray(now)) {
    const names = new Set([...Object.keys(stored), ...Object.keys(now)]);
    return [...names].flatMap((name) =>
      jsonDifferences(what === '' ? name : `${what}.${name}`, stored[name], now[name]),
    );
  }
  return stored === now ? [] : [{ what, stored: textOf(stored), now: textOf(now) }];
}

function isTree(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null;
}

function textOf(value: unknown): string {
  return value === undefined ? 'absent' : JSON.stringify(value);
}
