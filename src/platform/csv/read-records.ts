import { CsvError, parse } from 'csv-parse/sync';
import { unguardFormula } from './guard-formula.ts';
import type { FileMistake } from './mistakes.ts';

/** One row of a file as it was before its cells were guarded. */
export interface FileRecord {
  line: number;
  cells: string[];
}

export type RecordsReading =
  | { outcome: 'read'; records: FileRecord[] }
  | { outcome: 'refused'; mistake: FileMistake };

/**
 * Takes a CSV file apart (RFC 4180): CR LF or LF, UTF-8 with or without its mark, quoted cells with
 * line breaks. Lines with nothing on them are left out, and so are rows whose cells hold nothing but
 * spaces, because spreadsheets leave them behind. Of the others it gives no more than `recordsMax`.
 */
export function readRecords(bytes: Uint8Array, recordsMax: number): RecordsReading {
  const text = textOf(bytes);
  if (text === undefined) return refusedAt(1, NOT_UTF_8);
  const wide = lineTooWide(text);
  if (wide !== undefined) return refusedAt(wide, `The line has more than ${COMMAS_MAX} commas.`);
  const records: FileRecord[] = [];
  let blank = 0;
  const lineAt = lineCounter(text);
  let end = 0;
  try {
    parse(text, {
      record_delimiter: ['\r\n', '\n'],
      relax_column_count: true,
      skip_empty_lines: true,
      to: recordsMax + BLANK_ROWS_MAX,
      on_record: (inFile: string[], { bytes: ended }) => {
        const cells = inFile.map(unguardFormula);
        if (cells.every((cell) => cell.trim() === '')) blank += 1;
        else if (records.length < recordsMax) records.push({ line: lineAt(end), cells });
        end = ended;
        return null;
      },
    });
  } catch (error) {
    if (!(error instanceof CsvError)) throw error;
    return refusedAt(lineAt(end), wordsFor(error.code));
  }
  // The parser stopped, perhaps before rows that are not empty.
  if (blank >= BLANK_ROWS_MAX) return refusedAt(1, TOO_MANY_BLANK);
  return { outcome: 'read', records };
}

/** Taking apart millions of empty rows would keep everybody else waiting. */
const BLANK_ROWS_MAX = 100_000;
const TOO_MANY_BLANK = 'The file has 100,000 empty rows or more. Delete them and save it again.';

/** The text without its mark, as bytes, for the parser counts in bytes; undefined unless UTF-8. */
function textOf(bytes: Uint8Array): Buffer | undefined {
  const body = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength);
  try {
    new TextDecoder('utf-8', { fatal: true }).decode(body);
  } catch {
    return undefined;
  }
  const hasMark = body[0] === 0xef && body[1] === 0xbb && body[2] === 0xbf;
  return hasMark ? body.subarray(3) : body;
}

/** No list is so wide. A file of commas alone would keep the parser, and everybody else, waiting. */
function lineTooWide(text: Buffer): number | undefined {
  let line = 1;
  let commas = 0;
  for (const byte of text) {
    if (byte === COMMA) commas += 1;
    if (commas > COMMAS_MAX) return line;
    if (byte === LF) {
      line += 1;
      commas = 0;
    }
  }
  return undefined;
}

const COMMA = 0x2c;
const COMMAS_MAX = 1_000;

/**
 * Counts lines up to where a row begins. The parser has a count of its own, but it counts a CR LF
 * within quotation marks twice. Must be asked in rising order.
 */
function lineCounter(text: Buffer): (start: number) => number {
  let line = 1;
  let at = 0;
  return (start) => {
    // Lines with nothing on them before the row belong to no row.
    let begin = start;
    while (text[begin] === CR || text[begin] === LF) begin += 1;
    for (; at < begin; at += 1) if (text[at] === LF) line += 1;
    return line;
  };
}

const CR = 0x0d;
const LF = 0x0a;

function refusedAt(line: number, message: string): RecordsReading {
  return { outcome: 'refused', mistake: { line, column: null, message } };
}

const NOT_UTF_8 = 'The file is not UTF-8. Save it as "CSV UTF-8 (comma delimited)".';

function wordsFor(code: string): string {
  if (code === 'CSV_QUOTE_NOT_CLOSED')
    return 'A cell opens with a quotation mark and never closes.';
  return (
    'A quotation mark stands where none may: a cell that holds one stands in quotation marks, ' +
    'and the mark within is doubled.'
  );
}
