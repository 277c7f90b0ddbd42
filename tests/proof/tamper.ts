import { createHash } from 'node:crypto';
import {
  PDFArray,
  PDFDict,
  PDFDocument,
  type PDFObject,
  type PDFPage,
  PDFRef,
  PDFStream,
} from 'pdf-lib';

/**
 * Opens a file with an ordinary PDF library, changes it, and saves it whole, without what nothing
 * leads to any more: a forger leaves no traces either.
 */
export async function edited(
  bytes: Uint8Array,
  change: (document: PDFDocument, first: PDFPage) => unknown,
  useObjectStreams = false,
): Promise<Uint8Array> {
  const document = await PDFDocument.load(bytes, { updateMetadata: false });
  await change(document, document.getPage(0));
  await document.flush();
  sweep(document);
  return document.save({ useObjectStreams, addDefaultPage: false, updateFieldAppearances: false });
}

function sweep({ context }: PDFDocument): void {
  const { Root, Info } = context.trailerInfo;
  const reached = new Set<PDFRef>();
  const open: (PDFObject | undefined)[] = [Root, Info];
  while (open.length > 0) {
    const value = open.pop();
    if (value instanceof PDFArray) open.push(...value.asArray());
    if (value instanceof PDFDict) open.push(...value.values());
    if (value instanceof PDFStream) open.push(...value.dict.values());
    if (!(value instanceof PDFRef) || reached.has(value)) continue;
    reached.add(value);
    open.push(context.lookup(value));
  }
  for (const [reference] of context.enumerateIndirectObjects()) {
    if (!reached.has(reference)) context.delete(reference);
  }
  context.largestObjectNumber = Math.max(...[...reached].map((each) => each.objectNumber));
}

/** Replaces letters of the file where they stand; their count must stay the same. */
export function patched(bytes: Uint8Array, from: string | RegExp, to: string): Uint8Array {
  const text = Buffer.from(bytes).toString('latin1');
  const changed = text.replace(from, to);
  if (changed === text) throw new Error(`nothing to change: ${from}`);
  return new Uint8Array(Buffer.from(changed, 'latin1'));
}

/** Appends a new version of the first page's ink, as editors do that never touch what was there. */
export function appendedTo(bytes: Uint8Array, ink: string): Uint8Array {
  const text = Buffer.from(bytes).toString('latin1');
  const contents = /\/Type \/Page\n[^>]*?\/Contents (\d+) 0 R/.exec(text)?.[1];
  const root = /\/Root (\d+) 0 R/.exec(text)?.[1];
  const info = /\/Info (\d+) 0 R/.exec(text)?.[1];
  const size = /\/Size (\d+)/.exec(text)?.[1];
  const before = /startxref\n(\d+)\n/.exec(text)?.[1];
  const object = `${contents} 0 obj\n<< /Length ${ink.length} >>\nstream\n${ink}\nendstream\nendobj\n`;
  const at = String(text.length).padStart(10, '0');
  const table = `xref\n${contents} 1\n${at} 00000 n \n`;
  const trailer = `trailer\n<< /Size ${size} /Root ${root} 0 R /Info ${info} 0 R /Prev ${before} >>\n`;
  const end = `startxref\n${text.length + object.length}\n%%EOF\n`;
  return new Uint8Array(Buffer.from(`${text}${object}${table}${trailer}${end}`, 'latin1'));
}

/**
 * Marks a file as encrypted without changing a stream: the standard handler of revision 4 with
 * filters that leave everything as it is (ISO 32000-1, 7.6.3.3 and 7.6.5).
 */
export function locked(bytes: Uint8Array, password: string): Uint8Array {
  const text = Buffer.from(bytes).toString('latin1');
  const id = Buffer.from(/\/ID \[<([0-9a-f]+)>/.exec(text)?.[1] ?? '', 'hex');
  const owner = Buffer.alloc(32, 7);
  const permissions = Buffer.from([0xfc, 0xff, 0xff, 0xff]);
  const padded = Buffer.concat([Buffer.from(password, 'latin1'), PADDING]).subarray(0, 32);
  let key = md5(Buffer.concat([padded, owner, permissions, id]));
  for (let round = 0; round < 50; round += 1) key = md5(key);
  let user = md5(Buffer.concat([PADDING, id]));
  for (let round = 0; round < 20; round += 1)
    user = rc4(
      key.map((byte) => byte ^ round),
      user,
    );
  const userText = Buffer.concat([user, Buffer.alloc(16)]).toString('hex');
  const filters = '/CF << >> /StmF /Identity /StrF /Identity';
  const lock = `/Encrypt << /Filter /Standard /V 4 /R 4 /Length 128 /P -4 ${filters} /O <${owner.toString('hex')}> /U <${userText}> >>`;
  return patched(bytes, 'trailer\n<<\n', `trailer\n<<\n${lock}\n`);
}

const PADDING = Buffer.from(
  '28bf4e5e4e758a4164004e56fffa01082e2e00b6d0683e802f0ca9fe6453697a',
  'hex',
);

function md5(bytes: Uint8Array): Buffer {
  return createHash('md5').update(bytes).digest();
}

function rc4(key: Uint8Array, bytes: Uint8Array): Buffer {
  const state = Uint8Array.from({ length: 256 }, (_, index) => index);
  let j = 0;
  const swap = (a: number, b: number): void => {
    [state[a], state[b]] = [state[b] ?? 0, state[a] ?? 0];
  };
  for (let i = 0; i < 256; i += 1) {
    j = (j + (state[i] ?? 0) + (key[i % key.length] ?? 0)) % 256;
    swap(i, j);
  }
  let i = 0;
  j = 0;
  return Buffer.from(
    bytes.map((byte) => {
      i = (i + 1) % 256;
      j = (j + (state[i] ?? 0)) % 256;
      swap(i, j);
      return byte ^ (state[((state[i] ?? 0) + (state[j] ?? 0)) % 256] ?? 0);
    }),
  );
}
