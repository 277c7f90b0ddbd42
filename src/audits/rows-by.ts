/** Rows by the thing they belong to, each list in the order read. */
export function rowsBy<Row>(
  rows: readonly Row[],
  keyOf: (row: Row) => string,
): (key: string) => readonly Row[] {
  const byKey = new Map<string, Row[]>();
  for (const row of rows) {
    const known = byKey.get(keyOf(row));
    if (known === undefined) byKey.set(keyOf(row), [row]);
    else known.push(row);
  }
  return (key) => byKey.get(key) ?? [];
}
