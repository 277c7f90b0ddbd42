import type { Font } from 'fontkit';
import {
  type PdfDictionary,
  type PdfDocument,
  type PdfReference,
  pdfText,
} from './pdf-document.ts';
import type { FaceSubset } from './subset-face.ts';

/** Writes a part of a typeface into a file, under the reference that pages have it by (ISO 32000-1, 9.7). */
export function embedFont(
  pdf: PdfDocument,
  reference: PdfReference,
  font: Font,
  { program, programBytes, places, widths, unicode }: FaceSubset,
): void {
  const { bbox, ascent, descent, capHeight, italicAngle, postscriptName, unitsPerEm } = font;
  const perMille = (units: number) => (units * 1_000) / unitsPerEm;
  const name = `${SUBSET_TAG}+${postscriptName}`;
  const descriptor = ended(pdf, {
    Type: 'FontDescriptor',
    FontName: name,
    Flags: SYMBOLIC,
    FontBBox: [bbox.minX, bbox.minY, bbox.maxX, bbox.maxY].map(perMille),
    ItalicAngle: italicAngle,
    Ascent: perMille(ascent),
    Descent: perMille(descent),
    CapHeight: perMille(capHeight),
    StemV: 0,
    FontFile2: ended(pdf, { Filter: 'FlateDecode', Length1: programBytes }, program),
  });
  const descendant = ended(pdf, {
    Type: 'Font',
    Subtype: 'CIDFontType2',
    BaseFont: name,
    CIDSystemInfo: { Registry: pdfText('Adobe'), Ordering: pdfText('Identity'), Supplement: 0 },
    FontDescriptor: descriptor,
    W: widths,
    CIDToGIDMap: ended(pdf, { Filter: 'FlateDecode' }, places),
  });
  Object.assign(reference.data, {
    Subtype: 'Type0',
    BaseFont: name,
    Encoding: 'Identity-H',
    DescendantFonts: [descendant],
    ToUnicode: ended(pdf, { Filter: 'FlateDecode' }, unicode),
  });
  reference.end();
}

/** Six capitals before its name say that a typeface is not there as a whole. */
const SUBSET_TAG = 'EVNHND';
/** Its glyphs go by their own numbers, not by those of a usual set of letters. */
const SYMBOLIC = 4;

function ended(pdf: PdfDocument, data: PdfDictionary, bytes?: Uint8Array): PdfReference {
  const reference = pdf.ref(data);
  reference.end(bytes);
  return reference;
}
