import { createReadStream } from 'node:fs';
import type { Row } from './copy-text.ts';
import { createLineReader } from './create-line-reader.ts';
import type { EndLine, HeadLine, TableLine } from './file-lines.ts';
import { wholeLines } from './whole-lines.ts';

/** What the file tells, piece by piece; rows belong to the table before them. */
export type Part =
  | { kind: 'head'; head: HeadLine }
  | { kind: 'table'; table: TableLine }
  | { kind: 'rows'; rows: readonly Row[] }
  | { kind: 'end'; end: EndLine };

const CHUNK_BYTES = 1 << 18;

/**
 * Reads a file of a company from its first line to its last, a piece at a time, and makes sure on
 * the way that it is whole.
 * @throws Error in plain words when it is not: what came before must then not be kept
 */
export async function* readParts(file: string): AsyncGenerator<Part> {
  const reader = createLineReader();
  const chunks: AsyncIterable<Buffer> = createReadStream(file, { highWaterMark: CHUNK_BYTES });
  for await (const text of wholeLines(chunks)) {
    let rows: Row[] = [];
    for (const line of text.split(/(?<=\n)/)) {
      const read = reader.read(line);
      if (read.kind === 'row') {
        rows.push(read.row);
        continue;
      }
      if (rows.length > 0) yield { kind: 'rows', rows };
      rows = [];
      yield read;
    }
    if (rows.length > 0) yield { kind: 'rows', rows };
  }
  reader.close();
}
