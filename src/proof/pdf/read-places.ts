import {
  type PdfDictionary,
  type PdfStream,
  type PdfValue,
  StrictlyUnreadable,
} from './pdf-value.ts';
import { readObject, type Span } from './read-object.ts';
import { isPackedAsOurs, type Unpacker } from './strict-pdf.ts';
import { ValueParser } from './value-parser.ts';

/** Where an object stands: at a byte of the file, or in a stream that packs several. */
export type Place = { kind: 'at'; offset: number } | { kind: 'packed'; packNumber: number };

export interface Places {
  places: Map<number, Place>;
  trailer: PdfDictionary;
  /** What of the file is no object: its first lines, the table, its end. */
  frame: Span[];
}

interface Source {
  text: string;
  bytes: Uint8Array;
  unpacker: Unpacker;
}

/**
 * Reads a file's table of objects, as a table or as a stream (ISO 32000-2, 7.5.4 and 7.5.8).
 * @throws StrictlyUnreadable
 */
export function readPlaces(source: Source): Places {
  const { text } = source;
  const head = /^%PDF-(?:1\.[0-7]|2\.0)(?:\r\n|\n|\r)(?:%[^\r\n]*(?:\r\n|\n|\r))?/.exec(text);
  const tailStart = text.lastIndexOf('startxref');
  const tail = /^startxref\s{1,4}(\d{1,10})\s{1,4}%%EOF\s{0,4}$/.exec(text.slice(tailStart));
  if (head === null || tailStart === -1 || tail === null) {
    throw new StrictlyUnreadable('the file does not begin or end as a PDF does');
  }
  const frame = [
    { start: 0, end: head[0].length },
    { start: tailStart, end: text.length },
  ];
  const tableStart = Number(tail[1]);
  if (text.startsWith('xref', tableStart)) {
    const { places, trailer, end } = readTable(text, tableStart);
    return { places, trailer, frame: [...frame, { start: tableStart, end }] };
  }
  return { ...readTableStream(source, tableStart), frame };
}

function readTable(text: string, start: number) {
  const parser = new ValueParser(text, start + 'xref'.length);
  const places = new Map<number, Place>();
  for (;;) {
    parser.skipSpace();
    if (parser.take('trailer')) break;
    const section = parser.match(/(\d{1,10}) (\d{1,7})[ \r\n]{1,3}/y);
    if (section === undefined) throw new StrictlyUnreadable('the table of objects is broken');
    readSection(parser, places, Number(section[1]), Number(section[2]));
  }
  const trailer = parser.readValue();
  if (trailer.kind !== 'dictionary') throw new StrictlyUnreadable('the trailer is missing');
  return { places, trailer, end: parser.position };
}

function readSection(
  parser: ValueParser,
  places: Map<number, Place>,
  first: number,
  count: number,
): void {
  for (let at = 0; at < count; at += 1) {
    const entry = parser.match(/(\d{10}) (\d{5}) ([nf])(?: \r| \n|\r\n)/y);
    if (entry === undefined) throw new StrictlyUnreadable('the table of objects is broken');
    if (entry[3] === 'f') continue;
    if (entry[2] !== '00000') throw new StrictlyUnreadable('an object has been replaced');
    place(places, first + at, { kind: 'at', offset: Number(entry[1]) });
  }
}

function readTableStream(source: Source, start: number): Omit<Places, 'frame'> {
  const { value: stream } = readObject({ ...source, places: new Map() }, start, undefined);
  if (stream.kind !== 'stream' || nameOf(stream.entries.get('Type')) !== 'XRef') {
    throw new StrictlyUnreadable('there is no table of objects');
  }
  const widths = columnWidths(stream);
  const width = widths.reduce((sum, each) => sum + each, 0);
  const rows = tableRows(stream, source.unpacker, width).values();
  const places = new Map<number, Place>();
  for (const objectNumber of listedNumbers(stream)) {
    const { value: row } = rows.next();
    if (row === undefined) throw new StrictlyUnreadable('the table of objects is too short');
    const where = placeIn(row, widths);
    if (where !== undefined) place(places, objectNumber, where);
  }
  return { places, trailer: { kind: 'dictionary', entries: stream.entries } };
}

/** How many bytes of a row tell the kind of place, where it is, and which it is there. */
type Widths = readonly [number, number, number];

function columnWidths(stream: PdfStream): Widths {
  const [kind, where, which, ...more] = numbersOf(stream.entries.get('W'));
  const isWhole = kind !== undefined && where !== undefined && which !== undefined;
  if (!isWhole || more.length > 0 || Math.max(kind, where, which) > 6) {
    throw new StrictlyUnreadable('the table of objects is broken');
  }
  return [kind, where, which];
}

/** The numbers of the objects that the rows stand for, section by section. */
function* listedNumbers(stream: PdfStream): Generator<number> {
  const size = numberOf(stream.entries.get('Size')) ?? 0;
  const index = stream.entries.get('Index');
  const sections = index === undefined ? [0, size] : numbersOf(index);
  for (let at = 0; at < sections.length; at += 2) {
    const [first = 0, count = 0] = sections.slice(at, at + 2);
    for (let step = 0; step < count; step += 1) yield first + step;
  }
}

/** @returns undefined for a number that no object has */
function placeIn(row: Uint8Array, [kindWidth, whereWidth]: Widths): Place | undefined {
  const kind = kindWidth === 0 ? 1 : bigEndian(row, 0, kindWidth);
  const where = bigEndian(row, kindWidth, whereWidth);
  if (kind === 1) return { kind: 'at', offset: where };
  return kind === 2 ? { kind: 'packed', packNumber: where } : undefined;
}

/** The table's rows, with the one predictor that programs use for it undone ("up", PNG type 2). */
function tableRows(stream: PdfStream, unpacker: Unpacker, width: number): Uint8Array[] {
  const parameters = stream.entries.get('DecodeParms');
  const entries = new Map(stream.entries);
  entries.delete('DecodeParms');
  const plain: PdfStream = { ...stream, entries };
  if (width === 0 || !isPackedAsOurs(plain)) {
    throw new StrictlyUnreadable('the table of objects is packed oddly');
  }
  const bytes = unpacker.unpack(plain);
  if (parameters === undefined) return cut(bytes, width);
  if (parameters.kind !== 'dictionary' || numberOf(parameters.entries.get('Columns')) !== width) {
    throw new StrictlyUnreadable('the table of objects is packed oddly');
  }
  let above = new Uint8Array(width);
  return cut(bytes, width + 1).map((row) => {
    if (row[0] !== 2) throw new StrictlyUnreadable('the table of objects is packed oddly');
    above = above.map((byte, index) => (byte + (row[index + 1] ?? 0)) & 0xff);
    return above;
  });
}

function cut(bytes: Uint8Array, width: number): Uint8Array[] {
  const count = Math.floor(bytes.length / width);
  return Array.from({ length: count }, (_, at) => bytes.subarray(at * width, (at + 1) * width));
}

function bigEndian(row: Uint8Array, start: number, width: number): number {
  return row.subarray(start, start + width).reduce((sum, byte) => sum * 256 + byte, 0);
}

function place(places: Map<number, Place>, objectNumber: number, where: Place): void {
  if (places.has(objectNumber)) throw new StrictlyUnreadable('an object is listed twice');
  places.set(objectNumber, where);
}

function nameOf(value: PdfValue | undefined): string | undefined {
  return value?.kind === 'name' ? value.text : undefined;
}

function numberOf(value: PdfValue | undefined): number | undefined {
  return value?.kind === 'number' ? value.value : undefined;
}

function numbersOf(value: PdfValue | undefined): number[] {
  if (value?.kind !== 'array') return [];
  return value.items.flatMap((item) => numberOf(item) ?? []);
}
