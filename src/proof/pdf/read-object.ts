import {
  type PdfDictionary,
  type PdfStream,
  type PdfValue,
  StrictlyUnreadable,
} from './pdf-value.ts';
import type { Place } from './read-places.ts';
import { ValueParser } from './value-parser.ts';

/**
 * Reads the object that starts exactly at the offset.
 * @throws StrictlyUnreadable
 */
export function readObject(
  source: ObjectSource,
  offset: number,
  objectNumber: number | undefined,
): { value: PdfValue; span: Span } {
  const parser = new ValueParser(source.text, offset);
  const head = parser.match(/(\d{1,10}) 0 obj(?=[\0\t\n\f\r <(/[])/y);
  if (head === undefined || (objectNumber !== undefined && Number(head[1]) !== objectNumber)) {
    throw new StrictlyUnreadable(`no object stands at byte ${offset}`);
  }
  const plain = parser.readValue();
  parser.skipSpace();
  const value = parser.take('stream') ? readStream(source, parser, plain) : plain;
  parser.expect('endobj');
  return { value, span: { start: offset, end: parser.position } };
}

/** A stretch of the file, end excluded. */
export interface Span {
  start: number;
  end: number;
}

export interface ObjectSource {
  text: string;
  bytes: Uint8Array;
  places: ReadonlyMap<number, Place>;
}

function readStream(source: ObjectSource, parser: ValueParser, value: PdfValue): PdfStream {
  if (value.kind !== 'dictionary') throw new StrictlyUnreadable('a stream has no dictionary');
  if (parser.match(/\r?\n/y) === undefined) throw new StrictlyUnreadable('a stream starts oddly');
  const start = parser.position;
  parser.position = start + streamLength(source, value);
  const raw = source.bytes.subarray(start, parser.position);
  if (parser.match(/(?:\r\n|\n|\r)?endstream/y) === undefined) {
    throw new StrictlyUnreadable(`the stream at byte ${start} has another length`);
  }
  return { kind: 'stream', entries: value.entries, raw };
}

function streamLength(source: ObjectSource, { entries }: PdfDictionary): number {
  let length = entries.get('Length');
  if (length?.kind === 'reference') {
    const place = source.places.get(length.objectNumber);
    if (place?.kind !== 'at') throw new StrictlyUnreadable('a stream has no length');
    length = readObject({ ...source, places: new Map() }, place.offset, length.objectNumber).value;
  }
  if (length?.kind !== 'number' || !Number.isInteger(length.value) || length.value < 0) {
    throw new StrictlyUnreadable('a stream has no length');
  }
  return length.value;
}
