import { createHash } from 'node:crypto';
import type { z } from 'zod';
import type { Row } from './copy-text.ts';
import {
  type EndLine,
  endLineSchema,
  FORMAT,
  FORMAT_VERSION,
  type HeadLine,
  headLineSchema,
  type TableLine,
  tableLineSchema,
} from './file-lines.ts';

/** One line of the file. */
export type Line =
  | { kind: 'head'; head: HeadLine }
  | { kind: 'table'; table: TableLine }
  | { kind: 'row'; row: Row }
  | { kind: 'end'; end: EndLine };

/** Reads the lines of one file, each in its place. */
export interface LineReader {
  /** @throws Error when this line cannot come here */
  read(line: string): Line;
  /** @throws Error unless the last line was read */
  close(): void;
}

/** Begins to read: counts rows and sums up bytes, to be held against what the last line says. */
export function createLineReader(): LineReader {
  const hash = createHash('sha256');
  const counts = new Map<string, number>();
  let number = 0;
  let table: TableLine | undefined;
  let isOver = false;

  const beginTable = (value: unknown): Line => {
    table = parse(tableLineSchema, value, number);
    if (counts.has(table.table)) throw damaged(number);
    counts.set(table.table, 0);
    return { kind: 'table', table };
  };
  const takeRow = (row: Row): Line => {
    if (row.length !== table?.columns.length) throw damaged(number);
    counts.set(table.table, (counts.get(table.table) ?? 0) + 1);
    return { kind: 'row', row };
  };
  const takeEnd = (value: unknown): Line => {
    const end = parse(endLineSchema, value, number);
    if (hash.digest('hex') !== end.sha256 || !isCount(counts, end.rows)) throw new Error(CHANGED);
    isOver = true;
    return { kind: 'end', end };
  };

  return {
    read: (line) => {
      number += 1;
      if (!line.endsWith('\n')) throw new Error(CUT_OFF);
      if (isOver) throw new Error(`Line ${number} stands after the end of the file.`);
      const value = valueIn(line, number);
      if (isEnd(value) && number > 1) return takeEnd(value);
      hash.update(line, 'utf8');
      if (number === 1) return { kind: 'head', head: parseHead(value) };
      return isRow(value) ? takeRow(value) : beginTable(value);
    },
    close: () => {
      if (number === 0) throw new Error(NOT_OURS);
      if (!isOver) throw new Error(CUT_OFF);
    },
  };
}

const NOT_OURS = 'This is not the file of a company that an export wrote.';
const CUT_OFF = 'The file is cut off: its end is missing. Copy it again from where it was kept.';
const CHANGED =
  'The file was changed or damaged: its content is not what its last line vouches for.';

function damaged(number: number): Error {
  return new Error(`The file was changed or damaged: line ${number} cannot be read.`);
}

function valueIn(line: string, number: number): unknown {
  try {
    return JSON.parse(line);
  } catch {
    throw number === 1 ? new Error(NOT_OURS) : damaged(number);
  }
}

function parse<T>(schema: z.ZodType<T>, value: unknown, number: number): T {
  const parsed = schema.safeParse(value);
  if (!parsed.success) throw damaged(number);
  return parsed.data;
}

function parseHead(value: unknown): HeadLine {
  const said = typeof value === 'object' && value !== null ? { ...value } : {};
  if (!('format' in said && said.format === FORMAT && 'formatVersion' in said)) {
    throw new Error(NOT_OURS);
  }
  if (said.formatVersion !== FORMAT_VERSION) {
    throw new Error(
      `The file is of format version ${String(said.formatVersion)}; this release reads ` +
        `version ${FORMAT_VERSION}. Restore it with the release that wrote it.`,
    );
  }
  return parse(headLineSchema, value, 1);
}

function isEnd(value: unknown): boolean {
  return typeof value === 'object' && value !== null && 'end' in value;
}

function isRow(value: unknown): value is Row {
  return Array.isArray(value) && value.every((each) => each === null || typeof each === 'string');
}

function isCount(counted: ReadonlyMap<string, number>, said: EndLine['rows']): boolean {
  return (
    Object.keys(said).length === counted.size &&
    [...counted].every(([table, rows]) => said[table] === rows)
  );
}
