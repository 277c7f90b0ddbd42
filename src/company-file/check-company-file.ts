import type { EndLine, HeadLine, TableLine } from './file-lines.ts';
import { readParts } from './read-parts.ts';

/** What a whole file says of itself. */
export interface CheckedFile {
  head: HeadLine;
  tables: readonly TableLine[];
  end: EndLine;
}

/**
 * Reads a file from end to end without keeping its rows.
 * @throws Error in plain words unless it is whole and unchanged
 */
export async function checkCompanyFile(file: string): Promise<CheckedFile> {
  let head: HeadLine | undefined;
  let end: EndLine | undefined;
  const tables: TableLine[] = [];
  for await (const part of readParts(file)) {
    if (part.kind === 'head') head = part.head;
    if (part.kind === 'table') tables.push(part.table);
    if (part.kind === 'end') end = part.end;
  }
  if (head === undefined || end === undefined) throw new Error('The file has no end.');
  return { head, tables, end };
}
