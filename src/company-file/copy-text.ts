/** The values of a row as the server writes them; null is no value. */
export type Row = readonly (string | null)[];

/**
 * Reads one line of PostgreSQL's COPY text format ("COPY", File Formats, of its manual): values
 * stand between tabs, `\N` is no value, and a backslash hides what would end a value or a line.
 */
export function readCopyLine(line: string): Row {
  return line.split('\t').map((field) => (field === '\\N' ? null : shown(field)));
}

/** Writes a row in that format, with the end of the line. */
export function writeCopyLine(row: Row): string {
  return `${row.map((value) => (value === null ? '\\N' : hidden(value))).join('\t')}\n`;
}

function shown(field: string): string {
  if (!field.includes('\\')) return field;
  return field.replace(/\\(.)/gs, (_, letter: string) => LETTERS[letter] ?? letter);
}

function hidden(value: string): string {
  return value.replace(/[\\\b\f\n\r\t\v]/g, (letter) => HIDDEN[letter] ?? letter);
}

const LETTERS: Record<string, string> = {
  b: '\b',
  f: '\f',
  n: '\n',
  r: '\r',
  t: '\t',
  v: '\v',
};

const HIDDEN: Record<string, string> = {
  '\\': '\\\\',
  '\b': '\\b',
  '\f': '\\f',
  '\n': '\\n',
  '\r': '\\r',
  '\t': '\\t',
  '\v': '\\v',
};
