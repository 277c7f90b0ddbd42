/** That rows of one table name rows of another. */
export interface Reference {
  readonly from: string;
  readonly to: string;
}

/**
 * Puts each table after those it refers to; where that leaves a choice, the alphabet decides. Of
 * tables that refer to each other in a circle the one that waits for the fewest others comes first:
 * a restore then looks at its references in the end. A table that refers to itself waits for
 * nothing, because its rows go in by one statement, after which the database looks.
 */
export function orderTables(names: readonly string[], references: readonly Reference[]): string[] {
  const ordered: string[] = [];
  const left = new Set([...names].sort());
  for (;;) {
    const waits = (name: string) => waitsFor(name, references, left);
    const [next, ...others] = left;
    if (next === undefined) return ordered;
    const first = others.reduce((a, b) => (waits(b) < waits(a) ? b : a), next);
    left.delete(first);
    ordered.push(first);
  }
}

/** How many other tables, of those that are left, a table refers to. */
function waitsFor(
  name: string,
  references: readonly Reference[],
  left: ReadonlySet<string>,
): number {
  return references.filter(({ from, to }) => from === name && to !== name && left.has(to)).length;
}
