import { assertOnlyKeys } from './only-keys.ts';
import { type PdfDictionary, StrictlyUnreadable } from './pdf-value.ts';
import type { Span } from './read-object.ts';
import { readTable } from './read-table.ts';
import { readTableStream } from './read-table-stream.ts';
import type { Unpacker } from './strict-pdf.ts';

/** Where an object stands: at a byte of the file, or as one of several packed in a stream. */
export type Place =
  | { kind: 'at'; offset: number }
  | { kind: 'packed'; packNumber: number; position: number };

export interface Places {
  places: ReadonlyMap<number, Place>;
  trailer: PdfDictionary;
  /** The number of the stream that the table stands in, where it is one. */
  tableNumber?: number;
  /** What of the file is no object: its first lines, a table that is no stream, its end. */
  frame: Span[];
}

export interface Source {
  text: string;
  bytes: Uint8Array;
  unpacker: Unpacker;
  /** A stranger's file may have been made to be read otherwise; ours has such letters by chance. */
  isStrange: boolean;
}

/**
 * Reads a file's table of objects, as a table or as a stream (ISO 32000-2, 7.5.4 and 7.5.8).
 * @throws StrictlyUnreadable
 */
export function readPlaces(source: Source): Places {
  const { text } = source;
  const head = /^%PDF-1\.[4-7]\n%[\x80-\xff]{4}\n/.exec(text);
  const tail = /startxref\n(0|[1-9]\d{0,9})\n%%EOF\n?$/.exec(text.slice(-TAIL_LENGTH_MAX));
  if (head === null || tail === null) {
    throw new StrictlyUnreadable('the file does not begin or end as a PDF does');
  }
  const tailStart = text.length - tail[0].length;
  const tableStart = Number(tail[1]);
  const isTable = text.startsWith('xref', tableStart);
  if (source.isStrange) assertNoOtherFrame(text, tailStart, isTable);
  const read = isTable ? readTable(text, tableStart) : readTableStream(source, tableStart);
  assertPlainTrailer(read, isTable);
  const frame = [
    { start: 0, end: head[0].length },
    { start: tailStart, end: text.length },
  ];
  return { ...read, frame: [...read.frame, ...frame] };
}

const TAIL_LENGTH_MAX = 40;

/**
 * Some readers look for a beginning, a table or an end elsewhere than where they belong, at least
 * where they think that the file is broken: not even within a stream may there be another.
 */
function assertNoOtherFrame(text: string, tailStart: number, isTable: boolean): void {
  const hasOneEnd = text.indexOf('startxref') === tailStart && text.indexOf('%%EOF') > tailStart;
  if (!hasOneEnd) throw new StrictlyUnreadable('the file ends twice');
  const tables = text.match(/xref|trailer/g)?.length;
  if (tables !== (isTable ? 3 : 1)) throw new StrictlyUnreadable('the file has two tables');
  if (text.includes('/Linearized')) throw new StrictlyUnreadable('the file is Linearized');
}

function assertPlainTrailer({ places, trailer: { entries } }: Places, isTable: boolean): void {
  assertOnlyKeys(entries, isTable ? TRAILER_KEYS : TABLE_STREAM_KEYS, 'the file');
  const size = entries.get('Size');
  // Both kinds of table are read only where the numbers rise.
  const highest = [...places.keys()].at(-1) ?? 0;
  if (size?.kind !== 'number' || size.value !== highest + 1 || highest > OBJECT_NUMBER_MAX) {
    throw new StrictlyUnreadable('the table of objects has another size');
  }
  if (entries.get('Root')?.kind !== 'reference' || entries.get('Info')?.kind !== 'reference') {
    throw new StrictlyUnreadable('the file has no root');
  }
  const id = entries.get('ID');
  const isId = id?.kind === 'array' && id.items.every(({ kind }) => kind === 'string');
  if (id !== undefined && !isId) throw new StrictlyUnreadable('the file has an odd ID');
}

/** Some readers leave out objects under numbers that are too high for them; our papers have hundreds. */
const OBJECT_NUMBER_MAX = 100_000;
const TRAILER_KEYS = new Set(['Size', 'Root', 'Info', 'ID']);
const TABLE_STREAM_KEYS = new Set([
  ...TRAILER_KEYS,
  'Type',
  'W',
  'Index',
  'Filter',
  'DecodeParms',
  'Length',
]);
