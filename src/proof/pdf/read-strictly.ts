import { assertAllReached } from './assert-all-reached.ts';
import { assertOnlyKeys } from './only-keys.ts';
import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';
import { readObject, type Span } from './read-object.ts';
import { readPacks } from './read-packs.ts';
import { type Places, readPlaces, type Source } from './read-places.ts';
import { StrictPdf, Unpacker } from './strict-pdf.ts';

/** What a whole file may unpack to: twenty times the longest paper we know of. */
export const UNPACKED_BYTES_MAX = 64 * 1024 * 1024;

/**
 * Reads a PDF file in the one way that leaves no two readers room to see different papers in it:
 * one table of objects, each object exactly where the table says, written once, led to from the
 * file's root, and not a byte in the file that belongs to nothing. Even a reader that gives up on
 * the table and looks for objects by itself finds these and no others. Files with later changes
 * appended, locked files and damaged ones, which lenient readers each mend in their own way, are
 * refused.
 * @param from of a file that we have just drawn nothing is refused that only looks as if it could be
 *   read in two ways: among packed bytes any letters turn up, once in some ten thousand files
 * @throws StrictlyUnreadable saying what is not plain
 * @throws TooLargeUnpacked
 */
export function readStrictly(bytes: Uint8Array, from: 'us' | 'anybody' = 'anybody'): StrictPdf {
  const text = Buffer.from(bytes.buffer, bytes.byteOffset, bytes.byteLength).toString('latin1');
  const unpacker = new Unpacker(UNPACKED_BYTES_MAX);
  const source = { text, bytes, unpacker, isStrange: from === 'anybody' };
  const table = readPlaces(source);
  const plain = readPlainObjects(source, table);
  const { packed, packNumbers } = readPacks(table.places, plain, unpacker);
  const frame = new Set(packNumbers);
  if (table.tableNumber !== undefined) frame.add(table.tableNumber);
  const objects = packed.size === 0 ? plain : new Map([...plain, ...packed]);
  const pdf = new StrictPdf(table.trailer, objects, unpacker);
  assertAllReached(pdf, objects, frame);
  assertPlainInfo(pdf);
  return pdf;
}

function readPlainObjects(source: Source, { places, frame }: Places): Map<number, PdfValue> {
  const objects = new Map<number, PdfValue>();
  const spans: Span[] = [...frame];
  for (const [objectNumber, place] of places) {
    if (place.kind !== 'at') continue;
    const read = readObject(source, place.offset);
    if (read.objectNumber !== objectNumber) {
      throw new StrictlyUnreadable(`another object stands at byte ${place.offset}`);
    }
    objects.set(objectNumber, read.value);
    spans.push(read.span);
  }
  assertNothingBetween(source.text, spans);
  if (source.isStrange) assertNoOthers(source.text, objects.size);
  return objects;
}

function assertNothingBetween(text: string, spans: Span[]): void {
  spans.sort((a, b) => a.start - b.start);
  let position = 0;
  for (const { start, end } of spans) {
    if (start < position) throw new StrictlyUnreadable(`two objects share byte ${start}`);
    if (/[^\t\n\r ]/.test(text.slice(position, start))) {
      throw new StrictlyUnreadable(`something belongs to no object at byte ${position}`);
    }
    position = end;
  }
  if (position !== text.length) throw new StrictlyUnreadable('something follows the end');
}

/** Within a stream, what looks like an object is one to a reader that looks for objects. */
function assertNoOthers(text: string, count: number): void {
  const heads = text.match(/\d[\0\t\n\f\r ]+\d+[\0\t\n\f\r ]*obj/g) ?? [];
  if (heads.length !== count) throw new StrictlyUnreadable('an object stands within another');
}

/** Texts that viewers show among a file's properties, where they show them at all. */
function assertPlainInfo(pdf: StrictPdf): void {
  const info = pdf.dictionary(pdf.trailer.entries.get('Info'));
  assertOnlyKeys(info, INFO_KEYS, 'the description of the file');
  for (const value of info.values()) {
    if (pdf.look(value).kind !== 'string') {
      throw new StrictlyUnreadable('the description of the file is not plain');
    }
  }
}

const INFO_KEYS = new Set(['Title', 'Subject', 'Creator', 'Producer', 'CreationDate', 'ModDate']);
