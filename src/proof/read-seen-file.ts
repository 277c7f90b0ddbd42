import { createHash } from 'node:crypto';
import {
  AnnotationMode,
  getDocument,
  type PDFDocumentProxy,
  type PDFPageProxy,
} from 'pdfjs-dist/legacy/build/pdf.mjs';
import { z } from 'zod';
import type { FoundAttachment } from './pdf/attachments-of.ts';

/** A file as a lenient viewer shows it, whatever state it is in. */
export interface SeenFile {
  title: string;
  pages: readonly SeenPage[];
  attachments: readonly FoundAttachment[];
  /** Whether opening it, or a part of it, starts something. */
  hasScript: boolean;
  isLocked: boolean;
}

export interface SeenPage {
  words: readonly string[];
  /** Size, turn and the part of the page that shows. */
  shape: string;
  /** SHA-256 over everything that is drawn, and by which typefaces. */
  drawing: string;
  /** Whether turning to the page starts something. */
  hasScript: boolean;
  /** What lies over the page and is no part of it, in plain words: notes, form fields, stamps. */
  overlays: readonly Overlay[];
}

export type Overlay = 'field' | 'link' | 'note';

/**
 * Reads a file with the reader that browsers have.
 * @throws FileLocked when it opens only with a password
 * @throws Error when no page can be read
 */
export async function readSeenFile(bytes: Uint8Array): Promise<SeenFile> {
  const document = await open(bytes);
  try {
    const { info } = await document.getMetadata();
    const pages: SeenPage[] = [];
    for (let number = 1; number <= document.numPages; number += 1) {
      pages.push(await readPage(await document.getPage(number)));
    }
    return {
      title: 'Title' in info && typeof info.Title === 'string' ? info.Title : '',
      pages,
      attachments: await attachmentsIn(document),
      hasScript: pages.some(({ hasScript }) => hasScript) || (await startsSomething(document)),
      isLocked: (await document.getPermissions()) !== null,
    };
  } finally {
    await document.loadingTask.destroy();
  }
}

/** The file cannot be opened without a password. */
export class FileLocked extends Error {
  override name = 'FileLocked';
}

/** Attached files alone, for a file whose pages nobody has asked for yet. */
export async function readSeenAttachments(bytes: Uint8Array): Promise<FoundAttachment[]> {
  const document = await open(bytes);
  try {
    return await attachmentsIn(document);
  } finally {
    await document.loadingTask.destroy();
  }
}

async function open(bytes: Uint8Array): Promise<PDFDocumentProxy> {
  try {
    return await getDocument({
      // The reader keeps what it is given for itself.
      data: new Uint8Array(bytes),
      isEvalSupported: false,
      disableFontFace: true,
      fontExtraProperties: true,
      useSystemFonts: false,
      useWorkerFetch: false,
      useWasm: false,
      enableXfa: false,
      maxImageSize: 16_000_000,
      verbosity: 0,
    }).promise;
  } catch (error) {
    if (error instanceof Error && error.name === 'PasswordException') throw new FileLocked();
    throw error;
  }
}

async function attachmentsIn(document: PDFDocumentProxy): Promise<FoundAttachment[]> {
  const found: unknown = await document.getAttachments();
  return Object.values(found ?? {}).flatMap((each: unknown) => {
    const read = seenAttachment.safeParse(each).data;
    return read
      ? [{ name: read.filename, description: read.description, bytes: read.content }]
      : [];
  });
}

const seenAttachment = z.object({
  filename: z.string(),
  description: z.string().catch(''),
  content: z.instanceof(Uint8Array),
});

async function startsSomething(document: PDFDocumentProxy): Promise<boolean> {
  const onOpening: unknown = await document.getOpenAction();
  return onOpening !== null || (await document.hasJSActions());
}

async function readPage(page: PDFPageProxy): Promise<SeenPage> {
  const { items } = await page.getTextContent({ disableNormalization: true });
  const text = items.map((item) => ('str' in item ? `${item.str}${item.hasEOL ? ' ' : ''}` : ' '));
  const annotations: { subtype?: string }[] = await page.getAnnotations();
  return {
    words: text.join('').split(/\s+/).filter(Boolean),
    shape: JSON.stringify([page.view, page.rotate, page.userUnit]),
    drawing: await drawingOf(page),
    hasScript: (await page.getJSActions()) !== null,
    overlays: annotations.map(({ subtype }) => OVERLAYS[subtype ?? ''] ?? 'note'),
  };
}

const OVERLAYS: Readonly<Record<string, Overlay>> = { Widget: 'field', Link: 'link' };

async function drawingOf(page: PDFPageProxy): Promise<string> {
  const { fnArray, argsArray } = await page.getOperatorList({
    annotationMode: AnnotationMode.DISABLE,
  });
  const drawn = JSON.stringify(argsArray, (_, value: unknown) =>
    ArrayBuffer.isView(value) ? Buffer.from(bytesOf(value)).toString('base64') : value,
  );
  // Names that the reader makes up hold a count of the files it has opened.
  const hash = createHash('sha256')
    .update(JSON.stringify(fnArray))
    .update(drawn.replaceAll(/"g_d\d+_/g, '"'));
  // The same letters in another typeface can be made to look like other letters.
  for (const font of new Set(drawn.match(/g_d\d+_f\d+/g))) hash.update(typefaceOf(page, font));
  return hash.digest('hex');
}

function typefaceOf({ commonObjs }: PDFPageProxy, font: string): Uint8Array {
  const typeface: unknown = commonObjs.has(font) ? commonObjs.get(font) : undefined;
  const hasData = typeof typeface === 'object' && typeface !== null && 'data' in typeface;
  return hasData && ArrayBuffer.isView(typeface.data) ? bytesOf(typeface.data) : new Uint8Array();
}

function bytesOf({ buffer, byteOffset, byteLength }: ArrayBufferView): Uint8Array {
  return new Uint8Array(buffer, byteOffset, byteLength);
}
