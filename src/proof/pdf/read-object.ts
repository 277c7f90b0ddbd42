import {
  type PdfDictionary,
  type PdfStream,
  type PdfValue,
  StrictlyUnreadable,
} from './pdf-value.ts';
import { ValueParser } from './value-parser.ts';

/**
 * Reads the object that starts exactly at the offset.
 * @throws StrictlyUnreadable
 */
export function readObject(source: ObjectSource, offset: number): ReadObject {
  const parser = new ValueParser(source.text, offset);
  const head = parser.match(OBJECT_HEAD);
  if (head === undefined) throw new StrictlyUnreadable(`no object stands at byte ${offset}`);
  const plain = parser.readValue();
  parser.skipSpace();
  const value = parser.take('stream') ? readStream(source, parser, plain) : plain;
  parser.expect('endobj');
  if (!parser.isAtSpace()) {
    throw new StrictlyUnreadable(`the object at byte ${offset} does not end`);
  }
  return { objectNumber: Number(head[1]), value, span: { start: offset, end: parser.position } };
}

const OBJECT_HEAD = /([1-9]\d{0,9}) 0 obj(?=[\t\n\r <(/[])/y;

export interface ReadObject {
  objectNumber: number;
  value: PdfValue;
  span: Span;
}

/** A stretch of the file, end excluded. */
export interface Span {
  start: number;
  end: number;
}

export interface ObjectSource {
  text: string;
  bytes: Uint8Array;
}

function readStream(source: ObjectSource, parser: ValueParser, value: PdfValue): PdfStream {
  if (value.kind !== 'dictionary') throw new StrictlyUnreadable('a stream has no dictionary');
  if (!parser.take('\n')) throw new StrictlyUnreadable('a stream starts oddly');
  const start = parser.position;
  parser.position = start + streamLength(value);
  const raw = source.bytes.subarray(start, parser.position);
  if (parser.match(/\n?endstream/y) === undefined) {
    throw new StrictlyUnreadable(`the stream at byte ${start} has another length`);
  }
  return { kind: 'stream', entries: value.entries, raw };
}

/** Written in the stream itself: a length that stands elsewhere is looked for by some and not by all. */
function streamLength({ entries }: PdfDictionary): number {
  const length = entries.get('Length');
  if (length?.kind !== 'number' || !Number.isInteger(length.value) || length.value < 0) {
    throw new StrictlyUnreadable('a stream has no plain length');
  }
  return length.value;
}
