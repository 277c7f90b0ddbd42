import { inflateSync } from 'node:zlib';
import {
  type PdfDictionary,
  type PdfStream,
  type PdfValue,
  StrictlyUnreadable,
  TooLargeUnpacked,
} from './pdf-value.ts';

/** A file that has been read strictly: every byte of it belongs to one object or to the frame. */
export class StrictPdf {
  readonly trailer: PdfDictionary;
  readonly #objects: ReadonlyMap<number, PdfValue>;
  readonly #unpacker: Unpacker;

  constructor(trailer: PdfDictionary, objects: ReadonlyMap<number, PdfValue>, unpacker: Unpacker) {
    this.trailer = trailer;
    this.#objects = objects;
    this.#unpacker = unpacker;
  }

  /** What a reference stands for; one to nothing stands for null (ISO 32000-2, 7.3.10). */
  look(value: PdfValue | undefined): PdfValue {
    if (value?.kind !== 'reference') return value ?? NULL;
    const found = this.#objects.get(value.objectNumber) ?? NULL;
    if (found.kind === 'reference') throw new StrictlyUnreadable('a reference leads to another');
    return found;
  }

  dictionary(value: PdfValue | undefined): ReadonlyMap<string, PdfValue> {
    const found = this.look(value);
    if (found.kind !== 'dictionary') throw new StrictlyUnreadable('a dictionary is missing');
    return found.entries;
  }

  /** @returns undefined where the stream is packed in a way that our papers never are */
  unpack(stream: PdfStream): Uint8Array | undefined {
    return isPackedAsOurs(stream) ? this.#unpacker.unpack(stream) : undefined;
  }
}

const NULL = { kind: 'null' } as const;

/** Undoes the packing of streams, all of a file's together up to a bound. */
export class Unpacker {
  #bytesLeft: number;

  constructor(bytesMax: number) {
    this.#bytesLeft = bytesMax;
  }

  /** @throws TooLargeUnpacked */
  unpack({ entries, raw }: PdfStream): Uint8Array {
    const bytes = entries.has('Filter') ? this.#inflate(raw) : raw;
    this.#bytesLeft -= bytes.length;
    if (this.#bytesLeft < 0) throw new TooLargeUnpacked('the file unpacks to too much');
    return bytes;
  }

  #inflate(raw: Uint8Array): Uint8Array {
    try {
      return inflateSync(raw, { maxOutputLength: Math.max(1, this.#bytesLeft) });
    } catch (error) {
      if (error instanceof RangeError) throw new TooLargeUnpacked('the file unpacks to too much');
      throw new StrictlyUnreadable('a stream cannot be unpacked');
    }
  }
}

/** Plain or deflated, and without a predictor. */
export function isPackedAsOurs({ entries }: PdfStream): boolean {
  const filter = entries.get('Filter');
  if (filter === undefined) return true;
  const only = filter.kind === 'array' && filter.items.length === 1 ? filter.items[0] : filter;
  const isDeflated = only?.kind === 'name' && only.text === 'FlateDecode';
  return isDeflated && !entries.has('DecodeParms') && !entries.has('F');
}
