import { matchHeader } from './match-header.ts';
import { type FileMistakes, note } from './mistakes.ts';
import { otherSeparator } from './other-separator.ts';
import { type FileRecord, readRecords } from './read-records.ts';

/** The cells of one row by the names of their columns. */
export type Cells = Readonly<Record<string, string>>;

/** One row read, or what is wrong in it, cell by cell. */
export type RowReading<Item> =
  | { outcome: 'read'; item: Item }
  | { outcome: 'refused'; mistakes: { column: string | null; message: string }[] };

/** What a file has to hold. */
export interface TableForm<Item> {
  columns: readonly string[];
  /** Rows whose cells are all empty do not count. */
  rowsMax: number;
  /** A column in which no value may stand twice; neither spaces around it nor case make another. */
  keyColumn?: string;
  /** `line` is where the row begins, for what only several rows together can get wrong. */
  readRow(cells: Cells, line: number): RowReading<Item>;
}

export type TableReading<Item> =
  | { outcome: 'read'; items: Item[] }
  | ({ outcome: 'refused' } & FileMistakes);

/** Reads a CSV file as a table: all of it, or every mistake in it. */
export function readTable<Item>(bytes: Uint8Array, form: TableForm<Item>): TableReading<Item> {
  const separator = otherSeparator(bytes, form.columns);
  if (separator !== undefined) return refusedWhole(separatedBy(separator));
  // The header, the rows, and one row more that shows there are too many.
  const file = readRecords(bytes, form.rowsMax + 2);
  if (file.outcome === 'refused') return { outcome: 'refused', mistakes: [file.mistake], more: 0 };
  const [header, ...rows] = file.records;
  if (header === undefined) return refusedWhole(NO_HEADER);
  const match = matchHeader(header, form.columns);
  if (match.outcome === 'refused') return match;
  if (rows.length > form.rowsMax) {
    return refusedWhole(`The file has more than ${form.rowsMax} rows.`);
  }
  return readRows(rows, form, match);
}

function readRows<Item>(
  rows: readonly FileRecord[],
  form: TableForm<Item>,
  { positions, width }: { positions: ReadonlyMap<string, number>; width: number },
): TableReading<Item> {
  const found: FileMistakes = { mistakes: [], more: 0 };
  const items: Item[] = [];
  const lineOfKey = new Map<string, number>();
  for (const { line, cells: inFile } of rows) {
    if (inFile.length !== width) {
      note(found, { line, column: null, message: wrongWidth(inFile.length, width) });
      continue;
    }
    const cells = cellsOf(inFile, positions);
    const row = form.readRow(cells, line);
    if (row.outcome === 'read') items.push(row.item);
    else for (const mistake of row.mistakes) note(found, { line, ...mistake });
    const key = form.keyColumn && cells[form.keyColumn]?.trim().toLowerCase();
    if (!form.keyColumn || !key) continue;
    const earlier = lineOfKey.get(key);
    if (earlier === undefined) lineOfKey.set(key, line);
    else note(found, { line, column: form.keyColumn, message: `stands on line ${earlier} too` });
  }
  return found.mistakes.length === 0
    ? { outcome: 'read', items }
    : { outcome: 'refused', ...found };
}

function cellsOf(inFile: readonly string[], positions: ReadonlyMap<string, number>): Cells {
  const cells: Record<string, string> = {};
  for (const [name, at] of positions) cells[name] = inFile[at] ?? '';
  return cells;
}

function refusedWhole<Item>(message: string): TableReading<Item> {
  return { outcome: 'refused', mistakes: [{ line: 1, column: null, message }], more: 0 };
}

function separatedBy(separator: string): string {
  return `The columns are separated by ${separator}. Save the file with commas between them.`;
}

function wrongWidth(cells: number, columns: number): string {
  return `The row has ${cells} cell${cells === 1 ? '' : 's'}, the header ${columns}.`;
}

const NO_HEADER = 'The file is empty: its first line has to name the columns.';
