import { type FileMistakes, note } from './mistakes.ts';
import type { FileRecord } from './read-records.ts';

/** Where each wanted column stands in the file. */
export type HeaderMatch =
  | { outcome: 'matched'; positions: ReadonlyMap<string, number>; width: number }
  | ({ outcome: 'refused' } & FileMistakes);

/**
 * Finds the wanted columns in a header, in whatever order they stand. Every column must be there
 * once and no other: a misspelled name would otherwise empty a column unseen.
 */
export function matchHeader(header: FileRecord, wanted: readonly string[]): HeaderMatch {
  const names = header.cells.map((cell) => cell.trim());
  const found: FileMistakes = { mistakes: [], more: 0 };
  const say = (column: string, message: string) =>
    note(found, { line: header.line, column, message });
  const seen = new Set<string>();
  for (const name of names) {
    if (!wanted.includes(name)) say(shown(name), `is no column of this file: ${wanted.join(', ')}`);
    else if (seen.has(name)) say(name, 'stands twice');
    seen.add(name);
  }
  for (const name of wanted) if (!seen.has(name)) say(name, 'is missing');
  if (found.mistakes.length > 0) return { outcome: 'refused', ...found };
  const positions = new Map(names.map((name, at) => [name, at]));
  return { outcome: 'matched', positions, width: names.length };
}

/** A name out of a strange file, short and without what is no text. */
function shown(name: string): string {
  return name.slice(0, 40).replace(/[^\p{L}\p{N}\p{P}\p{S} ]/gu, '\ufffd');
}
