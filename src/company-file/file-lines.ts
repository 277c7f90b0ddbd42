import { z } from 'zod';

/** What the first line calls the format, and which of its versions this program writes and reads. */
export const FORMAT = 'evenhand-company';
export const FORMAT_VERSION = 1;

/** The first line: which schema the rows are of, what goes on being counted, and what is not here. */
export const headLineSchema = z.strictObject({
  format: z.literal(FORMAT),
  formatVersion: z.literal(FORMAT_VERSION),
  /** The last migration of the schema the rows are of. */
  schemaVersion: z.string(),
  migrations: z.array(z.string()),
  /** The next number of each sequence. */
  nextNumbers: z.record(z.string(), z.string().regex(/^\d+$/)),
  /** Where the sealed journal ends: position and hash, to hold the restored one against. */
  journalTip: z.strictObject({ position: z.string().regex(/^\d+$/), hash: z.string() }),
  inside: z.array(z.string()),
  outside: z.array(z.string()),
});

/** Begins a table: its rows follow, each an array of texts in the order of these columns. */
export const tableLineSchema = z.strictObject({
  table: z.string(),
  columns: z.array(z.strictObject({ name: z.string(), type: z.string() })),
});

/** One row; a null is no value. */
export const rowLineSchema = z.array(z.union([z.string(), z.null()]));

/** The last line: how many rows each table has, and the SHA-256 of all bytes before this line. */
export const endLineSchema = z.strictObject({
  end: z.literal(true),
  rows: z.record(z.string(), z.int().min(0)),
  sha256: z.string().regex(/^[0-9a-f]{64}$/),
});

export type HeadLine = z.output<typeof headLineSchema>;
export type TableLine = z.output<typeof tableLineSchema>;
export type EndLine = z.output<typeof endLineSchema>;

/** A line of the file, with its end. */
export function lineOf(said: HeadLine | TableLine | EndLine): string {
  return `${JSON.stringify(said)}\n`;
}
