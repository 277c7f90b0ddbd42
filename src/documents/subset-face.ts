import { deflateSync } from 'node:zlib';
import type { Font } from 'fontkit';
import type { Glyph, TypeFace } from './type-face.ts';

/** The part of a typeface that goes into a file: outlines, widths, and what the glyphs stand for. */
export interface FaceSubset {
  /** A TrueType font, deflated. */
  program: Uint8Array;
  /** How long the font is before it is deflated. */
  programBytes: number;
  /** Where in that font each glyph is, by its number in the typeface (CIDToGIDMap), deflated. */
  places: Uint8Array;
  /** As the entry W has them (ISO 32000-1, 9.7.4.3), in thousandths of the type size. */
  widths: (number | number[])[];
  /** The map from glyphs to characters (ISO 32000-1, 9.10.3), deflated. */
  unicode: Uint8Array;
}

/** A glyph by the number that pages call it by. One glyph may go by several, to say other letters. */
export interface CodedGlyph extends Glyph {
  code: number;
}

/**
 * Cuts a typeface down to some glyphs. Pages go on naming them by their numbers in the whole
 * typeface. The same glyphs, in whatever order, give the same bytes.
 */
export function subsetFace({ font }: TypeFace, glyphs: Iterable<Glyph>): FaceSubset {
  return subsetCoded(
    font,
    Array.from(glyphs, ({ id, advanceWidth, codePoints }) => ({
      code: id,
      id,
      advanceWidth,
      codePoints,
    })),
  );
}

/** Cuts a font down to some glyphs that pages have numbers of their own for. */
export function subsetCoded(font: Font, glyphs: Iterable<CodedGlyph>): FaceSubset {
  const sorted = [...glyphs].sort((one, other) => one.code - other.code);
  const { program, places } = cut(font, sorted);
  return {
    program: deflateSync(program),
    programBytes: program.length,
    places: deflateSync(places),
    widths: widthsOf(sorted, font.unitsPerEm),
    unicode: deflateSync(Buffer.from(unicodeMap(sorted), 'latin1')),
  };
}

function cut(
  font: Font,
  sorted: readonly CodedGlyph[],
): { program: Uint8Array; places: Uint8Array } {
  const subset = font.createSubset() as unknown as NumberedSubset;
  const places = Buffer.alloc(2 * ((sorted.at(-1)?.code ?? 0) + 1));
  for (const { code, id } of sorted) {
    // Glyph 0 stands for whatever is missing, and every font has it at its beginning.
    if (id !== 0) places.writeUInt16BE(subset.includeGlyph(id), 2 * code);
  }
  return { program: subset.encode(), places };
}

/** fontkit's subset as it is: its published types tell neither the argument nor what comes back. */
interface NumberedSubset {
  /** @returns the glyph's number in the part */
  includeGlyph(id: number): number;
  encode(): Uint8Array;
}

/** Neighbors share one list. */
function widthsOf(sorted: readonly CodedGlyph[], unitsPerEm: number): (number | number[])[] {
  const widths: (number | number[])[] = [];
  let run: number[] = [];
  let next = -1;
  for (const { code, advanceWidth } of sorted) {
    if (code !== next) {
      run = [];
      widths.push(code, run);
    }
    run.push((advanceWidth * 1_000) / unitsPerEm);
    next = code + 1;
  }
  return widths;
}

function unicodeMap(sorted: readonly CodedGlyph[]): string {
  const pairs = sorted
    .filter(({ id }) => id !== 0)
    .map(({ code, codePoints }) => `<${hex(code)}> <${utf16Hex(codePoints)}>`);
  const sections: string[] = [];
  for (let from = 0; from < pairs.length; from += PAIRS_MAX) {
    const some = pairs.slice(from, from + PAIRS_MAX);
    sections.push(`${some.length} beginbfchar`, ...some, 'endbfchar');
  }
  return [...MAP_HEAD, ...sections, ...MAP_END].join('\n');
}

/** What one section of a character map may hold. */
const PAIRS_MAX = 100;
const MAP_HEAD = [
  '/CIDInit /ProcSet findresource begin',
  '12 dict begin',
  'begincmap',
  '/CIDSystemInfo << /Registry (Adobe) /Ordering (UCS) /Supplement 0 >> def',
  '/CMapName /Adobe-Identity-UCS def',
  '/CMapType 2 def',
  '1 begincodespacerange',
  '<0000> <ffff>',
  'endcodespacerange',
];
const MAP_END = ['endcmap', 'CMapName currentdict /CMap defineresource pop', 'end', 'end'];

function hex(value: number): string {
  return value.toString(16).padStart(4, '0');
}

function utf16Hex(codePoints: readonly number[]): string {
  const text = String.fromCodePoint(...codePoints);
  return Array.from({ length: text.length }, (_, at) => hex(text.charCodeAt(at))).join('');
}
