import type { z } from 'zod';
import {
  type Cells,
  type RowReading,
  readTable,
  type TableReading,
} from '../../../platform/csv/read-table.ts';
import { writeTable } from '../../../platform/csv/write-table.ts';
import { plainWords } from '../../../platform/plain-words.ts';
import type { CellForm } from './cell-form.ts';

/** A column of a file, and where its value stands in an item: `fit.specs.voltsMax`. */
export interface Column {
  name: string;
  path: readonly string[];
  form: CellForm;
}

/** A list of the price book as a file: one row for each item. */
export interface ListFile<Item> {
  columns: readonly Column[];
  schema: z.ZodType<Item>;
  rowsMax: number;
  keyColumn?: string;
  /** What an item has when all its cells are empty. */
  blank: Readonly<Record<string, unknown>>;
}

export function column(name: string, path: string, form: CellForm): Column {
  return { name, path: path.split('.'), form };
}

/** The items as a CSV file. */
export function writeList<Item>({ columns }: ListFile<Item>, items: readonly Item[]): Uint8Array {
  const names = columns.map(({ name }) => name);
  return writeTable(
    names,
    items.map((item) => columns.map(({ path, form }) => cellAt(item, path, form))),
  );
}

/** The items of a CSV file, each checked as if it had been sent; or every mistake in it. */
export function readList<Item>(file: ListFile<Item>, bytes: Uint8Array): TableReading<Item> {
  return readTable(bytes, {
    columns: file.columns.map(({ name }) => name),
    rowsMax: file.rowsMax,
    ...(file.keyColumn !== undefined && { keyColumn: file.keyColumn }),
    readRow: (cells) => readRow(file, cells),
  });
}

function cellAt(item: unknown, path: readonly string[], form: CellForm): string {
  let value = item;
  for (const name of path) value = isRecord(value) ? value[name] : undefined;
  if (value === undefined || value === null) return '';
  // The schema of the item says what stands there; the form belongs to that path.
  return form.write(value as string | number | readonly number[]);
}

function readRow<Item>(file: ListFile<Item>, cells: Cells): RowReading<Item> {
  const mistakes: { column: string | null; message: string }[] = [];
  const candidate: Record<string, unknown> = structuredClone(file.blank);
  for (const { name, path, form } of file.columns) {
    const cell = (cells[name] ?? '').trim();
    if (cell === '') continue;
    const read = form.read(cell);
    if ('mistake' in read) mistakes.push({ column: name, message: read.mistake });
    else put(candidate, path, read.value);
  }
  // What a wrong cell would have said is missing below; one mistake is told once.
  if (mistakes.length > 0) return { outcome: 'refused', mistakes };
  const parsed = file.schema.safeParse(candidate, { error: plainWords });
  if (parsed.success) return { outcome: 'read', item: parsed.data };
  const found = parsed.error.issues.flatMap((issue) => mistakesOf(issue, file.columns));
  return { outcome: 'refused', mistakes: found };
}

function put(into: Record<string, unknown>, path: readonly string[], value: unknown): void {
  let place = into;
  for (const name of path.slice(0, -1)) {
    const next = place[name];
    const inner: Record<string, unknown> = isRecord(next) ? next : {};
    place[name] = inner;
    place = inner;
  }
  const last = path.at(-1);
  if (last !== undefined) place[last] = value;
}

function mistakesOf(issue: z.core.$ZodIssue, columns: readonly Column[]) {
  if (issue.code === 'unrecognized_keys') {
    return issue.keys.map((key) => ({
      column: columnAt([...issue.path, key], columns),
      message: 'must be empty in this row',
    }));
  }
  return [{ column: columnAt(issue.path, columns), message: issue.message }];
}

/** The column of a place in an item; of a place around or within, the first one there. */
function columnAt(path: readonly PropertyKey[], columns: readonly Column[]): string | null {
  const place = path.map(String);
  const agree = (one: readonly string[]) =>
    one.slice(0, place.length).every((name, at) => name === place[at]);
  return columns.find((each) => agree(each.path))?.name ?? null;
}

function isRecord(value: unknown): value is Record<string, unknown> {
  return typeof value === 'object' && value !== null && !Array.isArray(value);
}
