import { type PdfStream, type PdfValue, StrictlyUnreadable } from './pdf-value.ts';
import { readObject } from './read-object.ts';
import type { Place, Places, Source } from './read-places.ts';
import { isPackedAsOurs, type Unpacker } from './strict-pdf.ts';

/**
 * Reads a table of objects that stands in a stream.
 * @throws StrictlyUnreadable
 */
export function readTableStream(source: Source, start: number): Places {
  const { value: stream, objectNumber: tableNumber } = readObject(source, start);
  if (stream.kind !== 'stream' || nameOf(stream.entries.get('Type')) !== 'XRef') {
    throw new StrictlyUnreadable('there is no table of objects');
  }
  const widths = columnWidths(stream);
  const numbers = listedNumbers(stream);
  const rows = tableRows(stream, source.unpacker, widths[0] + widths[1] + widths[2]);
  if (rows.length !== numbers.length) throw broken();
  const places = new Map<number, Place>();
  for (const [at, row] of rows.entries()) {
    const objectNumber = numbers[at] ?? 0;
    const where = placeIn(row, widths, objectNumber);
    if (where !== undefined) places.set(objectNumber, where);
  }
  const own = places.get(tableNumber);
  if (own?.kind !== 'at' || own.offset !== start) throw broken();
  return {
    places,
    tableNumber,
    trailer: { kind: 'dictionary', entries: stream.entries },
    frame: [],
  };
}

/** How many bytes of a row tell the kind of place, where it is, and which it is there. */
type Widths = readonly [number, number, number];

function columnWidths(stream: PdfStream): Widths {
  const [kind, where, which, ...more] = naturalsOf(stream.entries.get('W'));
  const isWhole = kind === 1 && where !== undefined && which !== undefined;
  if (!isWhole || more.length > 0 || where < 1 || where > 4 || which > 4) throw broken();
  return [kind, where, which];
}

/** The numbers of the objects that the rows stand for, each section behind the one before. */
function listedNumbers(stream: PdfStream): number[] {
  const index = stream.entries.get('Index');
  const [size = 0] = naturalsOf({ kind: 'array', items: [stream.entries.get('Size') ?? NULL] });
  const sections = index === undefined ? [0, size] : naturalsOf(index);
  const numbers: number[] = [];
  for (let at = 0; at < sections.length; at += 2) {
    const [first = 0, count = 0] = sections.slice(at, at + 2);
    const isBehind = at === 0 || first > (numbers.at(-1) ?? 0);
    if (!isBehind || count < 1 || numbers.length + count > OBJECT_COUNT_MAX) throw broken();
    for (let step = 0; step < count; step += 1) numbers.push(first + step);
  }
  return numbers;
}

const NULL = { kind: 'null' } as const;
/** Far more than a paper has; they are written out one by one. */
const OBJECT_COUNT_MAX = 1_000_000;

/** @returns undefined for the first row, which stands for no object */
function placeIn(row: Uint8Array, widths: Widths, objectNumber: number): Place | undefined {
  const kind = row[0];
  const where = bigEndian(row, 1, widths[1]);
  const which = bigEndian(row, 1 + widths[1], widths[2]);
  if (objectNumber === 0 && kind === 0 && where === 0) return undefined;
  if (objectNumber > 0 && kind === 1 && which === 0) return { kind: 'at', offset: where };
  if (objectNumber > 0 && kind === 2) return { kind: 'packed', packNumber: where, position: which };
  throw broken();
}

/** The table's rows, with the one predictor that programs use for it undone ("up", PNG type 2). */
function tableRows(stream: PdfStream, unpacker: Unpacker, width: number): Uint8Array[] {
  const parameters = stream.entries.get('DecodeParms');
  const entries = new Map(stream.entries);
  entries.delete('DecodeParms');
  const plain: PdfStream = { ...stream, entries };
  if (!isPackedAsOurs(plain)) throw broken();
  const bytes = unpacker.unpack(plain);
  if (parameters === undefined) return cut(bytes, width);
  if (!entries.has('Filter') || !isUpPredictor(parameters, width)) throw broken();
  let above = new Uint8Array(width);
  return cut(bytes, width + 1).map((row) => {
    if (row[0] !== 2) throw broken();
    above = above.map((byte, index) => (byte + (row[index + 1] ?? 0)) & 0xff);
    return above;
  });
}

function isUpPredictor(parameters: PdfValue, width: number): boolean {
  if (parameters.kind !== 'dictionary') return false;
  const { entries } = parameters;
  const asked = { Predictor: 12, Columns: width };
  const implied = { Colors: 1, BitsPerComponent: 8 };
  return (
    Object.entries(asked).every(([key, value]) => numberOf(entries.get(key)) === value) &&
    [...entries].every(([key, value]) =>
      Object.entries({ ...asked, ...implied }).some(
        ([known, expected]) => key === known && numberOf(value) === expected,
      ),
    )
  );
}

function cut(bytes: Uint8Array, width: number): Uint8Array[] {
  if (bytes.length % width !== 0) throw broken();
  const count = bytes.length / width;
  return Array.from({ length: count }, (_, at) => bytes.subarray(at * width, (at + 1) * width));
}

function bigEndian(row: Uint8Array, start: number, width: number): number {
  return row.subarray(start, start + width).reduce((sum, byte) => sum * 256 + byte, 0);
}

function nameOf(value: PdfValue | undefined): string | undefined {
  return value?.kind === 'name' ? value.text : undefined;
}

function numberOf(value: PdfValue | undefined): number | undefined {
  return value?.kind === 'number' ? value.value : undefined;
}

function naturalsOf(value: PdfValue | undefined): number[] {
  if (value?.kind !== 'array') throw broken();
  return value.items.map((item) => {
    const number = numberOf(item);
    if (number === undefined || !Number.isInteger(number) || number < 0) throw broken();
    return number;
  });
}

function broken(): StrictlyUnreadable {
  return new StrictlyUnreadable('the table of objects is broken');
}
