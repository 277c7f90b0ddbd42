import { assertOnlyKeys } from './only-keys.ts';
import { type PdfValue, StrictlyUnreadable } from './pdf-value.ts';
import type { StrictPdf } from './strict-pdf.ts';

/** A file found inside a file. */
export interface FoundAttachment {
  name: string;
  /** What a viewer shows beside the name. */
  description: string;
  bytes: Uint8Array;
}

/**
 * The files attached to a strictly read one, each as often as it stands there. Every other road to
 * attached data (of a page, an element, a note) starts where the digest of the pages looks.
 * @throws StrictlyUnreadable when anything but attached files stands among them, named scripts for
 *   one, or when other files are said to go with the paper
 */
export function attachmentsOf(pdf: StrictPdf): FoundAttachment[] {
  const catalog = pdf.dictionary(pdf.trailer.entries.get('Root'));
  const named = catalog.has('Names') ? namedFiles(pdf, catalog.get('Names')) : [];
  assertTheSame(pdf, catalog.get('AF'), named);
  return named.map(({ listed, specification }) => attachmentOf(pdf, listed, specification));
}

interface NamedFile {
  listed: PdfValue | undefined;
  specification: PdfValue | undefined;
}

function namedFiles(pdf: StrictPdf, value: PdfValue | undefined): NamedFile[] {
  const trees = pdf.dictionary(value);
  assertOnlyKeys(trees, new Set(['EmbeddedFiles', 'Dests']), 'the list of names');
  const [files, places] = ['EmbeddedFiles', 'Dests'].map((key) => leafOf(pdf, trees.get(key)));
  if (files === undefined || places === undefined || places.length > 0 || files.length % 2 > 0) {
    throw new StrictlyUnreadable('the list of names is not plain');
  }
  return Array.from({ length: files.length / 2 }, (_, at) => ({
    listed: files[2 * at],
    specification: files[2 * at + 1],
  }));
}

function leafOf(pdf: StrictPdf, tree: PdfValue | undefined): readonly PdfValue[] {
  if (tree === undefined) return [];
  const leaf = pdf.dictionary(tree);
  assertOnlyKeys(leaf, new Set(['Names']), 'the list of names');
  const names = pdf.look(leaf.get('Names'));
  if (names.kind !== 'array') throw new StrictlyUnreadable('the list of names is not plain');
  return names.items;
}

/** The catalog lists the same files once more, and some programs look there alone. */
function assertTheSame(
  pdf: StrictPdf,
  associated: PdfValue | undefined,
  named: readonly NamedFile[],
): void {
  const list = pdf.look(associated);
  const items = list.kind === 'array' ? list.items : [];
  const isSame =
    (list.kind === 'array' || associated === undefined) &&
    items.length === named.length &&
    new Set(items.map(numberOf)).size === items.length &&
    items.every((item) => named.some((each) => numberOf(each.specification) === numberOf(item)));
  if (!isSame) throw new StrictlyUnreadable('other files go with the paper than are attached');
}

function numberOf(value: PdfValue | undefined): number {
  if (value?.kind === 'reference') return value.objectNumber;
  throw new StrictlyUnreadable('an attached file is stored oddly');
}

function attachmentOf(
  pdf: StrictPdf,
  listed: PdfValue | undefined,
  specification: PdfValue | undefined,
): FoundAttachment {
  const entries = pdf.dictionary(specification);
  assertOnlyKeys(entries, SPECIFICATION_KEYS, 'an attached file');
  assertNames(entries, ['Type', 'AFRelationship']);
  const names = [listed, entries.get('F'), entries.get('UF') ?? entries.get('F')].map((each) =>
    textOf(pdf.look(each)),
  );
  const [name] = names;
  const description = entries.has('Desc') ? textOf(pdf.look(entries.get('Desc'))) : '';
  const hasOneName = names.every((each) => each === name);
  if (name === undefined || description === undefined || !hasOneName) {
    throw new StrictlyUnreadable('an attached file is named oddly');
  }
  return { name, description, bytes: contentOf(pdf, pdf.dictionary(entries.get('EF'))) };
}

const SPECIFICATION_KEYS = new Set(['Type', 'AFRelationship', 'F', 'UF', 'EF', 'Desc']);

/** Some programs list the same stream once more for the longer name. */
function contentOf(pdf: StrictPdf, embedded: ReadonlyMap<string, PdfValue>): Uint8Array {
  assertOnlyKeys(embedded, new Set(['F', 'UF']), 'an attached file');
  const first = numberOf(embedded.get('F'));
  const hasOneContent = [...embedded.values()].every((each) => numberOf(each) === first);
  const stream = pdf.look(embedded.get('F'));
  const bytes = stream.kind === 'stream' ? pdf.unpack(stream) : undefined;
  if (stream.kind !== 'stream' || bytes === undefined || !hasOneContent) {
    throw new StrictlyUnreadable('an attached file is stored oddly');
  }
  assertOnlyKeys(stream.entries, CONTENT_KEYS, 'an attached file');
  assertNames(stream.entries, ['Type', 'Subtype']);
  if (stream.entries.has('Params')) {
    assertPlainParameters(pdf, pdf.dictionary(stream.entries.get('Params')), bytes.length);
  }
  return bytes;
}

/** Names and no references: behind one, another paper could hide from the digest of the pages. */
function assertNames(entries: ReadonlyMap<string, PdfValue>, keys: readonly string[]): void {
  for (const key of keys) {
    if (entries.has(key) && entries.get(key)?.kind !== 'name') {
      throw new StrictlyUnreadable('an attached file is described oddly');
    }
  }
}

const CONTENT_KEYS = new Set(['Type', 'Subtype', 'Params', 'Filter', 'Length']);
const PARAMETER_KEYS = new Set(['Size', 'CreationDate', 'ModDate', 'CheckSum']);

function assertPlainParameters(
  pdf: StrictPdf,
  parameters: ReadonlyMap<string, PdfValue>,
  length: number,
): void {
  assertOnlyKeys(parameters, PARAMETER_KEYS, 'an attached file');
  for (const [key, value] of parameters) {
    const found = pdf.look(value);
    const isPlain = key === 'Size' ? isNumber(found, length) : found.kind === 'string';
    if (!isPlain) throw new StrictlyUnreadable('an attached file is described oddly');
  }
}

function isNumber(found: PdfValue, number: number): boolean {
  return found.kind === 'number' && found.value === number;
}

/** Plain letters, or any in UTF-16: beyond those, what a letter stands for depends on the reader. */
function textOf(value: PdfValue): string | undefined {
  if (value.kind !== 'string') return undefined;
  if (/^[ -~]*$/.test(value.text)) return value.text;
  const bytes = Buffer.from(value.text, 'latin1');
  if (!value.text.startsWith('\u00fe\u00ff') || bytes.length % 2 === 1) return undefined;
  return bytes.subarray(2).swap16().toString('utf16le');
}
