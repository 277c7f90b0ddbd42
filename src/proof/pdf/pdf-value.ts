/** A value as a PDF file writes it (ISO 32000-2, 7.3). Strings and names hold one byte a letter. */
export type PdfValue =
  | { kind: 'null' }
  | { kind: 'boolean'; value: boolean }
  | { kind: 'number'; value: number }
  | { kind: 'name'; text: string }
  | { kind: 'string'; text: string }
  | { kind: 'reference'; objectNumber: number }
  | { kind: 'array'; items: readonly PdfValue[] }
  | PdfDictionary
  | PdfStream;

export interface PdfDictionary {
  kind: 'dictionary';
  entries: ReadonlyMap<string, PdfValue>;
}

export interface PdfStream {
  kind: 'stream';
  entries: ReadonlyMap<string, PdfValue>;
  /** As stored, before any filter is undone. */
  raw: Uint8Array;
}

/** The file is not written the one plain way that the strict reader accepts. */
export class StrictlyUnreadable extends Error {
  override name = 'StrictlyUnreadable';
}

/** The file unpacks to more than anybody should be made to unpack. */
export class TooLargeUnpacked extends Error {
  override name = 'TooLargeUnpacked';
}
