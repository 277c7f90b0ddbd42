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
 * The files attached to a strictly read one, each as often as it stands there.
 * @throws StrictlyUnreadable when anything but attached files stands among them: named scripts too
 *   live in this place
 */
export function attachmentsOf(pdf: StrictPdf): FoundAttachment[] {
  const catalog = pdf.dictionary(pdf.trailer.entries.get('Root'));
  if (!catalog.has('Names')) return [];
  const found: FoundAttachment[] = [];
  for (const [key, tree] of pdf.dictionary(catalog.get('Names'))) {
    const leaf = pdf.dictionary(tree);
    const names = pdf.look(leaf.get('Names'));
    if (leaf.has('Kids') || names.kind !== 'array') {
      throw new StrictlyUnreadable(`the file lists its ${key} oddly`);
    }
    if (key !== 'EmbeddedFiles' && names.items.length > 0) {
      throw new StrictlyUnreadable(`the file names its ${key}`);
    }
    for (let at = 0; at < names.items.length; at += 2) {
      found.push(attachmentOf(pdf, names.items[at], names.items[at + 1]));
    }
  }
  assertNoOthers(pdf, catalog.get('AF'), found.length);
  return found;
}

function attachmentOf(
  pdf: StrictPdf,
  listed: PdfValue | undefined,
  specification: PdfValue | undefined,
): FoundAttachment {
  const entries = pdf.dictionary(specification);
  const names = [listed, entries.get('F'), entries.get('UF') ?? entries.get('F')].map((each) =>
    textOf(pdf.look(each)),
  );
  const [name] = names;
  const embedded = pdf.dictionary(entries.get('EF'));
  const stream = pdf.look(embedded.get('F'));
  const bytes = stream.kind === 'stream' ? pdf.unpack(stream) : undefined;
  const hasOneName = names.every((each) => each === name);
  if (name === undefined || bytes === undefined || !hasOneName || !hasOneContent(embedded)) {
    throw new StrictlyUnreadable('an attached file is stored oddly');
  }
  return { name, description: textOf(pdf.look(entries.get('Desc'))) ?? '', bytes };
}

/** Some programs list the same stream once more for the longer name. */
function hasOneContent(embedded: ReadonlyMap<string, PdfValue>): boolean {
  const [first, ...more] = [...embedded.values()].map((each) => JSON.stringify(each));
  return more.every((each) => each === first);
}

/** The catalog lists the same files once more; a file that stood only there would be missed. */
function assertNoOthers(pdf: StrictPdf, value: PdfValue | undefined, countMax: number): void {
  const listed = pdf.look(value);
  if (listed.kind === 'null') return;
  if (listed.kind !== 'array' || listed.items.length > countMax) {
    throw new StrictlyUnreadable('more files go with the paper than are attached');
  }
}

function textOf(value: PdfValue): string | undefined {
  if (value.kind !== 'string') return undefined;
  if (!value.text.startsWith('\u00fe\u00ff')) return value.text;
  const bytes = Buffer.from(value.text.slice(2), 'latin1');
  return bytes.length % 2 === 0 ? bytes.swap16().toString('utf16le') : undefined;
}
