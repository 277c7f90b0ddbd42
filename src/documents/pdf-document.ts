import type { Font } from 'fontkit';
import PDFDocument from 'pdfkit';

/**
 * The part of pdfkit 0.20 that papers use. The published types stop short of it: they know neither
 * the PDF/UA subset, nor parsed fonts, nor a cell's scope or a figure's box.
 */
export interface PdfDocument {
  registerFont(name: string, font: Font): this;
  font(name: string): this;
  fontSize(sizePt: number): this;
  widthOfString(text: string): number;
  addPage(): this;
  text(text: string, x: number, y: number, options: PdfTextOptions): this;
  fillColor(color: string): this;
  strokeColor(color: string): this;
  lineWidth(widthPt: number): this;
  lineCap(cap: 'round' | 'butt'): this;
  roundedRect(x: number, y: number, width: number, height: number, radius: number): this;
  rect(x: number, y: number, width: number, height: number): this;
  circle(x: number, y: number, radius: number): this;
  polygon(...points: (readonly [number, number])[]): this;
  moveTo(x: number, y: number): this;
  lineTo(x: number, y: number): this;
  fill(): this;
  stroke(): this;
  fillAndStroke(): this;
  markContent(tag: 'Artifact', options: { type: 'Pagination' | 'Layout' }): this;
  endMarkedContent(): this;
  struct(type: string, options: PdfStructureOptions): PdfStructureElement;
  addStructure(element: PdfStructureElement): this;
  file(bytes: Uint8Array, options: PdfFileOptions): unknown;
  on(event: 'data', listener: (chunk: Uint8Array) => void): this;
  on(event: 'end', listener: () => void): this;
  on(event: 'error', listener: (error: Error) => void): this;
  end(): void;
}

export interface PdfTextOptions {
  lineBreak: false;
  baseline: 'alphabetic';
  /** Needed to underline and to justify, and measured unless it is given. */
  textWidth: 0;
  wordCount: 0;
}

export interface PdfFileOptions {
  name: string;
  type: string;
  description: string;
  relationship: 'Data' | 'Supplement';
  creationDate: Date;
  modifiedDate: Date;
}

export interface PdfStructureOptions {
  alt?: string;
  expanded?: string;
  bbox?: [number, number, number, number];
}

export interface PdfStructureElement {
  add(child: PdfStructureElement | (() => void)): this;
  end(): void;
  /** The element's dictionary; attributes of tables and lists are written into it. */
  dictionary: { data: { A?: Record<string, string | number> } };
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
  const Document = PDFDocument as unknown as new (options: PdfDocumentOptions) => PdfDocument;
  return new Document(options);
}
