import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';
import { readObject, type Span } from './read-object.ts';
import { type Place, readPlaces } from './read-places.ts';
import { StrictPdf, Unpacker } from './strict-pdf.ts';
import { ValueParser } from './value-parser.ts';

/** What a whole file may unpack to: twenty times the longest paper we know of. */
export const UNPACKED_BYTES_MAX = 64 * 1024 * 1024;

/**
 * Reads a PDF file in the one way that leaves no two readers room to see different papers in it:
 * one table of objects, each object exactly where the table says, written once, and not a byte in
 * the file that belongs to nothing. Files with later changes appended, locked files and damaged
 * ones, which lenient readers each mend in their own way, are refused.
 * @throws StrictlyUnreadable saying what is not plain
 * @throws TooLargeUnpacked
 */
export function readStrictly(bytes: Uint8Array): StrictPdf {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  const unpacker = new Unpacker(UNPACKED_BYTES_MAX);
  const { places, trailer, frame } = readPlaces({ text, bytes, unpacker });
  for (const refused of ['Prev', 'XRefStm', 'Encrypt']) {
    if (trailer.entries.has(refused)) throw new StrictlyUnreadable(`the file has ${refused}`);
  }
  const objects = new Map<number, PdfValue>();
  const spans: Span[] = [...frame];
  for (const [objectNumber, place] of places) {
    if (place.kind !== 'at') continue;
    const { value, span } = readObject({ text, bytes, places }, place.offset, objectNumber);
    objects.set(objectNumber, value);
    spans.push(span);
  }
  assertNothingBetween(text, spans);
  for (const [objectNumber, value] of packedObjects(places, objects, unpacker)) {
    objects.set(objectNumber, value);
  }
  return new StrictPdf(trailer, objects, unpacker);
}

/** Objects that are packed together in one stream (ISO 32000-2, 7.5.7). */
function* packedObjects(
  places: ReadonlyMap<number, Place>,
  objects: ReadonlyMap<number, PdfValue>,
  unpacker: Unpacker,
): Generator<[number, PdfValue]> {
  const packs = new Map<number, ReadonlyMap<number, PdfValue>>();
  for (const [objectNumber, place] of places) {
    if (place.kind !== 'packed') continue;
    const known = packs.get(place.packNumber);
    const pack = known ?? readPack(objects.get(place.packNumber), unpacker);
    packs.set(place.packNumber, pack);
    const value = pack.get(objectNumber);
    if (value === undefined) throw new StrictlyUnreadable(`object ${objectNumber} is missing`);
    yield [objectNumber, value];
  }
}

function readPack(pack: PdfValue | undefined, unpacker: Unpacker): Map<number, PdfValue> {
  if (pack?.kind !== 'stream') throw new StrictlyUnreadable('a pack of objects is missing');
  const count = pack.entries.get('N');
  const first = pack.entries.get('First');
  if (count?.kind !== 'number' || first?.kind !== 'number' || pack.entries.has('Extends')) {
    throw new StrictlyUnreadable('a pack of objects is not plain');
  }
  const text = Buffer.from(unpacker.unpack(pack)).toString('latin1');
  const head = new ValueParser(text);
  const values = new Map<number, PdfValue>();
  for (let at = 0; at < count.value; at += 1) {
    const objectNumber = head.readValue();
    const offset = head.readValue();
    if (objectNumber.kind !== 'number' || offset.kind !== 'number') {
      throw new StrictlyUnreadable('a pack of objects has a broken head');
    }
    if (values.has(objectNumber.value)) throw new StrictlyUnreadable('an object is packed twice');
    const value = new ValueParser(text, first.value + offset.value).readValue();
    values.set(objectNumber.value, value);
  }
  return values;
}

function assertNothingBetween(text: string, spans: Span[]): void {
  spans.sort((a, b) => a.start - b.start);
  let position = 0;
  for (const { start, end } of spans) {
    if (start < position) throw new StrictlyUnreadable(`two objects share byte ${start}`);
    if (/[^\0\t\n\f\r ]/.test(text.slice(position, start))) {
      throw new StrictlyUnreadable(`something belongs to no object at byte ${position}`);
    }
    position = end;
  }
  if (position !== text.length) throw new StrictlyUnreadable('something follows the end');
}
