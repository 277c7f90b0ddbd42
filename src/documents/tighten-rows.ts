import { pageOfEachRow, type Row } from './place-rows.ts';

/**
 * A paper whose end runs over onto one more page has its white space made a little smaller, if that
 * saves the page: nobody wants a sheet that holds a caution and a code. Letters keep their size.
 */
export function tightenRows(rows: readonly Row[]): readonly Row[] {
  const pages = pageCount(rows);
  if (pages === 1) return rows;
  for (const share of TIGHTER) {
    const tighter = rows.map((row) => ({ ...row, spaceAbovePt: share * row.spaceAbovePt }));
    if (pageCount(tighter) < pages) return tighter;
  }
  return rows;
}

/** What is left of each space: first what nobody sees, at most so much that parts still stand apart. */
const TIGHTER = [0.85, 0.7, 0.55, 0.4];

function pageCount(rows: readonly Row[]): number {
  return 1 + (pageOfEachRow(rows).at(-1) ?? 0);
}
