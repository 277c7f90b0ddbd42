import PDFDocument from 'pdfkit';

/**
 * The part of pdfkit 0.20 that papers use: it keeps the file's objects, pages, metadata and
 * table. What stands on the pages, what it means and the typefaces are written by us, in
 * one piece each. The published types stop short of this.
 */
export interface PdfDocument {
  /** The page added last. */
  readonly page: PdfPage;
  addPage(): this;
  /** Adds to the operators of the page added last. */
  addContent(operators: Uint8Array): this;
  /** A new object of the file; it stands in it once it is ended. */
  ref(data: PdfDictionary): PdfReference;
  getStructTreeRoot(): PdfReference;
  /** For each page by its key: the elements that own its marked content, in order. */
  getStructParentTree(): { get(key: number): PdfReference[] };
  /** Finishes the file and returns it. */
  finish(): Uint8Array;
}

export interface PdfPage {
  readonly dictionary: PdfReference;
  /** The page's typefaces by the names its operators use. */
  readonly fonts: Record<string, PdfReference>;
  /** The page's key among the parents of marked content; asked for, it is given one. */
  readonly structParentTreeKey: number;
}

export interface PdfReference {
  data: PdfDictionary;
  /** Writes the object, as a stream where bytes are given. */
  end(bytes?: Uint8Array): void;
}

export interface PdfDictionary {
  [key: string]: PdfEntry | undefined;
}

/** A plain string is a name. */
export type PdfEntry = string | number | PdfText | PdfReference | PdfDictionary | PdfEntry[];

/** How pdfkit tells a text from a name. */
export interface PdfText {
  valueOf(): string;
}

export function pdfText(text: string): PdfText {
  return Object(text);
}

export interface PdfDocumentOptions {
  size: [number, number];
  margin: 0;
  pdfVersion: '1.7';
  subset: 'PDF/UA';
  tagged: true;
  displayTitle: true;
  lang: string;
  autoFirstPage: false;
  font: '';
  info: Record<'Title' | 'Subject' | 'Creator' | 'Producer', string> &
    Record<'CreationDate' | 'ModDate', Date>;
}

/** Opens an empty PDF. The one place where pdfkit's published types are set aside for ours. */
export function openPdf(options: PdfDocumentOptions): PdfDocument {
  return new WholePdf(options) as unknown as PdfDocument;
}

/** pdfkit hands a file out in pieces as a stream does; a paper is wanted whole and at once. */
class WholePdf extends (PDFDocument as unknown as StreamedPdf) {
  /** Not set to begin with: the file's first lines come from within the base's constructor. */
  declare private pieces?: Uint8Array[];

  push(piece: Uint8Array | null): boolean {
    this.pieces ??= [];
    if (piece !== null) this.pieces.push(piece);
    return true;
  }

  finish(): Uint8Array {
    this.end();
    return new Uint8Array(Buffer.concat(this.pieces ?? []));
  }
}

type StreamedPdf = new (options: PdfDocumentOptions) => { end(): void };
