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

  /** What a reference stands for. */
  look(value: PdfValue | undefined): PdfValue {
    if (value?.kind !== 'reference') return value ?? NULL;
    const found = this.#objects.get(value.objectNumber);
    // To nothing, it stands for null by the standard; readers that mend files may find something.
    if (found === undefined) throw new StrictlyUnreadable('a reference leads to nothing');
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

  /** @throws TooLargeUnpacked, and StrictlyUnreadable where something follows the packed bytes */
  unpack({ entries, raw }: PdfStream): Uint8Array {
    const bytes = entries.has('Filter') ? this.#inflate(raw) : raw;
    this.#bytesLeft -= bytes.length;
    if (this.#bytesLeft < 0) throw new TooLargeUnpacked('the file unpacks to too much');
    return bytes;
  }

  #inflate(raw: Uint8Array): Uint8Array {
    const { buffer, engine } = inflated(raw, Math.max(1, this.#bytesLeft));
    // Bytes behind the end are passed over by this reader, and not by every other.
    if (engine.bytesWritten !== raw.length) {
      throw new StrictlyUnreadable('something follows a packed stream');
    }
    return buffer;
  }
}

/** What `inflateSync` returns when asked how far it read, which its published types leave out. */
interface Inflated {
  buffer: Uint8Array;
  engine: { bytesWritten: number };
}

function inflated(raw: Uint8Array, maxOutputLength: number): Inflated {
  try {
    return inflateSync(raw, { maxOutputLength, info: true }) as unknown as Inflated;
  } catch (error) {
    if (error instanceof RangeError) throw new TooLargeUnpacked('the file unpacks to too much');
    throw new StrictlyUnreadable('a stream cannot be unpacked');
  }
}

/** Plain or deflated, without a predictor, and in the file itself. */
export function isPackedAsOurs({ entries }: PdfStream): boolean {
  if ([...entries.keys()].some((key) => OTHER_PACKING.has(key))) return false;
  const filter = entries.get('Filter');
  return filter === undefined || (filter.kind === 'name' && filter.text === 'FlateDecode');
}

/** With the short names that some readers take outside of inline images too. */
const OTHER_PACKING = new Set(['DecodeParms', 'DP', 'F', 'FFilter', 'FDecodeParms', 'DL']);
