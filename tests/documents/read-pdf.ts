import {
  decodePDFRawStream,
  PDFArray,
  PDFBool,
  PDFDict,
  PDFDocument,
  PDFHexString,
  PDFName,
  PDFNumber,
  type PDFObject,
  PDFRawStream,
  PDFString,
} from 'pdf-lib';
import { getDocument } from 'pdfjs-dist/legacy/build/pdf.mjs';

/** A PDF taken apart by readers that know nothing of how it was written. */
export interface ReadPdf {
  catalog: PdfDict;
  pages: ReadPage[];
  metadataXml: string;
  infoTitle: string | undefined;
}

export interface ReadPage {
  dict: PdfDict;
  reference: string;
  content: string;
  fonts: PdfDict[];
  /** For each typeface by the name that operators use, where its glyphs are (CIDToGIDMap). */
  glyphPlaces: Map<string, Uint8Array>;
}

/** A dictionary whose values are looked up through references. */
export interface PdfDict {
  get(key: string): PdfValue;
  reference(key: string): string | undefined;
}

export type PdfValue = string | number | boolean | undefined | PdfDict | PdfArray;

export interface PdfArray {
  items: PdfValue[];
}

export function isDict(value: PdfValue): value is PdfDict {
  return typeof value === 'object' && 'get' in value;
}

export function isArray(value: PdfValue): value is PdfArray {
  return typeof value === 'object' && 'items' in value;
}

/** A single kid or a list of them, as structure elements have either. */
export function listOf(value: PdfValue): PdfValue[] {
  if (value === undefined) return [];
  return isArray(value) ? value.items : [value];
}

export async function readPdf(bytes: Uint8Array): Promise<ReadPdf> {
  const document = await PDFDocument.load(bytes, { updateMetadata: false });
  const { context } = document;
  const look = (object: PDFObject | undefined): PdfValue => {
    const found = context.lookup(object);
    if (found instanceof PDFRawStream) return dictOf(found.dict);
    if (found instanceof PDFDict) return dictOf(found);
    if (found instanceof PDFArray) return { items: found.asArray().map(look) };
    if (found instanceof PDFName) return found.decodeText();
    if (found instanceof PDFNumber) return found.asNumber();
    if (found instanceof PDFBool) return found.asBoolean();
    if (found instanceof PDFString || found instanceof PDFHexString) return found.decodeText();
    return undefined;
  };
  const dictOf = (dict: PDFDict): PdfDict => ({
    get: (key) => look(dict.get(PDFName.of(key))),
    reference: (key) => dict.get(PDFName.of(key))?.toString(),
  });
  const streamBytes = (object: PDFObject | undefined): Uint8Array => {
    const stream = context.lookup(object);
    return stream instanceof PDFRawStream ? decodePDFRawStream(stream).decode() : new Uint8Array();
  };
  const streamText = (object: PDFObject | undefined): string =>
    Buffer.from(streamBytes(object)).toString('utf8');
  const placesOf = (font: PDFObject): Uint8Array => {
    const descendants = context.lookup(font, PDFDict).lookup(PDFName.of('DescendantFonts'));
    if (!(descendants instanceof PDFArray)) return new Uint8Array();
    return streamBytes(descendants.lookup(0, PDFDict).get(PDFName.of('CIDToGIDMap')));
  };
  return {
    catalog: dictOf(document.catalog),
    metadataXml: streamText(document.catalog.get(PDFName.of('Metadata'))),
    infoTitle: document.getTitle(),
    pages: document.getPages().map((page) => {
      const fonts = context.lookup(page.node.Resources()?.get(PDFName.of('Font')));
      return {
        dict: dictOf(page.node),
        reference: page.ref.toString(),
        content: streamText(page.node.get(PDFName.of('Contents'))),
        fonts:
          fonts instanceof PDFDict
            ? fonts.values().map((font) => dictOf(context.lookup(font, PDFDict)))
            : [],
        glyphPlaces: new Map(
          fonts instanceof PDFDict
            ? fonts.entries().map(([name, font]) => [name.decodeText(), placesOf(font)])
            : [],
        ),
      };
    }),
  };
}

/** What one page says: its own text in the order it was written, and what frames it. */
export interface PageText {
  body: string;
  artifacts: string;
}

/**
 * The text of every page as a reader of the file meets it, in the order of the content stream; where
 * an element says what it reads as, it is that (ISO 32000-1, 14.9.4), as for a screen reader.
 */
export async function readPageTexts(bytes: Uint8Array): Promise<PageText[]> {
  return textsOf(bytes, actualTexts(await readPdf(bytes)));
}

/** The text of every page as it is taken from the glyphs alone, as a browser copies it. */
export async function readGlyphTexts(bytes: Uint8Array): Promise<PageText[]> {
  return textsOf(bytes, new Map());
}

async function textsOf(
  bytes: Uint8Array,
  saidBy: ReadonlyMap<string, string>,
): Promise<PageText[]> {
  const document = await getDocument({ data: bytes.slice(), verbosity: 0 }).promise;
  const texts: PageText[] = [];
  for (let pageNumber = 1; pageNumber <= document.numPages; pageNumber += 1) {
    const page = await document.getPage(pageNumber);
    const { items } = await page.getTextContent({
      includeMarkedContent: true,
      disableNormalization: true,
    });
    const text: PageText = { body: '', artifacts: '' };
    const open: { tag: string; said: string | undefined }[] = [];
    for (const item of items) {
      if ('str' in item) {
        const piece = item.hasEOL ? `${item.str} ` : item.str;
        if (open.some(({ tag }) => tag === 'Artifact')) text.artifacts += piece;
        else if (open.every(({ said }) => said === undefined)) text.body += piece;
      } else if (item.type === 'endMarkedContent') {
        open.pop();
        text.body += ' ';
      } else {
        const said = 'id' in item ? saidBy.get(String(item.id)) : undefined;
        open.push({ tag: 'tag' in item ? String(item.tag) : '', said });
        text.body += said ?? '';
      }
    }
    texts.push({ body: squeeze(text.body), artifacts: squeeze(text.artifacts) });
  }
  await document.loadingTask.destroy();
  return texts;
}

/** What elements read as, by the marked content that they own, under the name that pdfjs gives it. */
export function actualTexts({ catalog }: ReadPdf): Map<string, string> {
  const texts = new Map<string, string>();
  const walk = (element: PdfDict): void => {
    const said = element.get('ActualText');
    for (const kid of listOf(element.get('K'))) {
      if (isDict(kid)) walk(kid);
      else if (typeof said === 'string') {
        const page = element.reference('Pg')?.split(' ')[0];
        texts.set(`p${page}R_mc${kid}`, said);
      }
    }
  };
  const root = catalog.get('StructTreeRoot');
  if (isDict(root)) walk(root);
  return texts;
}

/** Every figure below an element, in reading order. */
export function figuresIn(element: PdfDict): PdfDict[] {
  const kids = listOf(element.get('K')).filter(isDict).flatMap(figuresIn);
  return element.get('S') === 'Figure' ? [element, ...kids] : kids;
}

/** One space wherever there is white space: where lines break says nothing of what is written. */
export function squeeze(text: string): string {
  return text.replace(/\s+/g, ' ').trim();
}
