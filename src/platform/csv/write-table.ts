import { stringify } from 'csv-stringify/sync';
import { guardFormula } from './guard-formula.ts';

/**
 * A table as a CSV file (RFC 4180): UTF-8, lines that end in CR LF, the names of the columns first.
 * Cells that a spreadsheet would run are guarded. Cells must be well-formed Unicode.
 */
export function writeTable(
  columns: readonly string[],
  rows: Iterable<readonly string[]>,
): Uint8Array {
  const cells = [columns, ...rows].map((row) => row.map(guardFormula));
  // Without the mark a spreadsheet takes the file for its own old code page, and µ for two letters.
  const text = stringify(cells, {
    record_delimiter: '\r\n',
    quote_record_delimiter: true,
    bom: true,
  });
  return Buffer.from(text, 'utf8');
}
