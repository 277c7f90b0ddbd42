import { createHash, type Hash } from 'node:crypto';
import type { PdfStream, PdfValue } from './pdf-value.ts';
import type { StrictPdf } from './strict-pdf.ts';

/**
 * SHA-256 over all that a reader of the file meets: pages with their ink, typefaces and pictures,
 * what is read aloud, titles, and whatever else the file asks of a viewer. Not how the file is
 * packed or its objects are numbered, and not the files attached to it, so that a program which
 * only packs anew leaves the digest as it was, and a signature over it can be attached afterwards.
 * @returns lower-case hexadecimal
 * @throws StrictlyUnreadable, TooLargeUnpacked
 */
export function pagesDigest(pdf: StrictPdf): string {
  const hash = createHash('sha256');
  const teller = new Teller(pdf, hash);
  const catalog = pdf.dictionary(pdf.trailer.entries.get('Root'));
  teller.tellEntries(catalog, WHERE_ATTACHMENTS_STAND);
  const info = pdf.dictionary(pdf.trailer.entries.get('Info'));
  teller.tell(info.get('Title') ?? { kind: 'null' });
  teller.tell(info.get('Subject') ?? { kind: 'null' });
  teller.end();
  return hash.digest('hex');
}

/** The catalog's own entries; `attachmentsOf` looks into them. */
const WHERE_ATTACHMENTS_STAND = new Set(['Names', 'AF']);
const HOW_A_STREAM_IS_PACKED = new Set(['Length', 'Filter']);
const LENGTH_ONLY = new Set(['Length']);
const NOTHING: ReadonlySet<string> = new Set();

/** Tells a value in one form, whatever its objects are numbered and however its keys are ordered. */
class Teller {
  readonly #pdf: StrictPdf;
  readonly #hash: Hash;
  /** Objects in the order in which they were first met; they may lead back to each other. */
  readonly #met = new Map<number, number>();
  #told = '';

  constructor(pdf: StrictPdf, hash: Hash) {
    this.#pdf = pdf;
    this.#hash = hash;
  }

  tell(value: PdfValue): void {
    switch (value.kind) {
      case 'null':
        this.#write('null');
        break;
      case 'boolean':
      case 'number':
        this.#write(`${value.kind} ${value.value}`);
        break;
      case 'name':
      case 'string':
        this.#write(`${value.kind} ${value.text.length} ${value.text}`);
        break;
      case 'array':
        this.#write(`array ${value.items.length}`);
        for (const item of value.items) this.tell(item);
        break;
      case 'dictionary':
        this.tellEntries(value.entries, NOTHING);
        break;
      case 'stream':
        this.#tellStream(value);
        break;
      case 'reference':
        this.#tellObject(value);
        break;
    }
  }

  tellEntries(entries: ReadonlyMap<string, PdfValue>, without: ReadonlySet<string>): void {
    const keys = [...entries.keys()].filter((key) => !without.has(key)).sort();
    this.#write(`dictionary ${keys.length}`);
    for (const key of keys) {
      this.#write(`key ${key.length} ${key}`);
      this.tell(entries.get(key) ?? { kind: 'null' });
    }
  }

  #tellStream(stream: PdfStream): void {
    const unpacked = this.#pdf.unpack(stream);
    this.tellEntries(stream.entries, unpacked ? HOW_A_STREAM_IS_PACKED : LENGTH_ONLY);
    const bytes = unpacked ?? stream.raw;
    this.#write(`stream ${bytes.length}`);
    this.end();
    this.#hash.update(bytes);
  }

  #tellObject(reference: PdfValue & { kind: 'reference' }): void {
    const known = this.#met.get(reference.objectNumber);
    if (known !== undefined) {
      this.#write(`met ${known}`);
      return;
    }
    this.#write(`object ${this.#met.size}`);
    this.#met.set(reference.objectNumber, this.#met.size);
    this.tell(this.#pdf.look(reference));
  }

  /** Hands the hash what was told so far. */
  end(): void {
    this.#hash.update(this.#told, 'latin1');
    this.#told = '';
  }

  /** Each call of the hash costs more than a line of text, and a paper has ten thousand of them. */
  #write(text: string): void {
    this.#told += `${text}\n`;
  }
}
