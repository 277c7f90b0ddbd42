import { deflateSync } from 'node:zlib';
import { type FontTables, readTables, writeTables } from './font-tables.ts';
import type { Glyph, TypeFace } from './type-face.ts';

/** The part of a typeface that goes into a file: outlines, widths, and what the glyphs stand for. */
export interface FaceSubset {
  /** A TrueType font, deflated. */
  program: Uint8Array;
  /** How long the font is before it is deflated. */
  programBytes: number;
  /** As the entry W has them (ISO 32000-1, 9.7.4.3), in thousandths of the type size. */
  widths: (number | number[])[];
  /** The map from glyphs to characters (ISO 32000-1, 9.10.3), deflated. */
  unicode: Uint8Array;
}

/**
 * Cuts a typeface down to some glyphs. They keep their numbers; what is left out has neither outline
 * nor width. The same glyphs, in whatever order, give the same bytes.
 */
export function subsetFace(face: TypeFace, glyphs: Iterable<Glyph>): FaceSubset {
  const sorted = [...glyphs].sort((one, other) => one.id - other.id);
  const ids = sorted.map(({ id }) => id);
  const program = subsetProgram(readTables(face.file), ids);
  return {
    program: deflateSync(program),
    programBytes: program.length,
    widths: widthsOf(sorted, face.font.unitsPerEm),
    unicode: deflateSync(Buffer.from(unicodeMap(sorted), 'latin1')),
  };
}

/** Only what a font inside a PDF needs (ISO 32000-1, 9.9). */
function subsetProgram(tables: FontTables, ids: readonly number[]): Buffer {
  const table = (tag: string) => {
    const found = tables.get(tag);
    if (found === undefined) throw new Error(`The typeface has no table '${tag}'.`);
    return found;
  };
  const outlineOf = outlines(table('loca'), table('glyf'));
  const kept = withComponents(ids, outlineOf);
  const count = Math.max(...kept) + 1;
  const metricOf = metrics(table('hhea').readUInt16BE(METRICS_GIVEN_AT), table('hmtx'));
  const pieces: Buffer[] = [];
  const hmtx = Buffer.alloc(count * METRIC_BYTES);
  const loca = Buffer.alloc((count + 1) * OFFSET_BYTES);
  let end = 0;
  for (let id = 0; id < count; id += 1) {
    if (kept.has(id)) {
      const outline = outlineOf(id);
      pieces.push(outline);
      end += outline.length;
      metricOf(id).copy(hmtx, id * METRIC_BYTES);
    }
    loca.writeUInt32BE(end, (id + 1) * OFFSET_BYTES);
  }
  const hhea = Buffer.from(table('hhea'));
  hhea.writeUInt16BE(count, METRICS_GIVEN_AT);
  const maxp = Buffer.from(table('maxp'));
  maxp.writeUInt16BE(count, GLYPHS_AT);
  const glyf = Buffer.concat(pieces);
  const [head, prep] = [table('head'), table('prep')];
  return writeTables(new Map(Object.entries({ glyf, head, hhea, hmtx, loca, maxp, prep })));
}

const METRICS_GIVEN_AT = 34;
const GLYPHS_AT = 4;
const METRIC_BYTES = 4;
const OFFSET_BYTES = 4;

function outlines(loca: Buffer, glyf: Buffer): (id: number) => Buffer {
  const start = (id: number) => loca.readUInt32BE(id * OFFSET_BYTES);
  return (id) => glyf.subarray(start(id), start(id + 1));
}

/** Advance and bearing; glyphs after the last advance given have that one. */
function metrics(given: number, hmtx: Buffer): (id: number) => Buffer {
  const bearingsAt = given * METRIC_BYTES;
  return (id) => {
    if (id < given) return hmtx.subarray(id * METRIC_BYTES, (id + 1) * METRIC_BYTES);
    const bearing = bearingsAt + (id - given) * 2;
    return Buffer.concat([
      hmtx.subarray(bearingsAt - METRIC_BYTES, bearingsAt - 2),
      hmtx.subarray(bearing, bearing + 2),
    ]);
  };
}

/** The glyphs, the one for what is missing, and all that they are put together from. */
function withComponents(ids: readonly number[], outlineOf: (id: number) => Buffer): Set<number> {
  const kept = new Set([0, ...ids]);
  // A set that grows while it is walked is walked to its new end.
  for (const id of kept) for (const component of componentsOf(outlineOf(id))) kept.add(component);
  return kept;
}

/** The parts of a glyph that is put together from others (OpenType 1.9, 'glyf'). */
function componentsOf(outline: Buffer): number[] {
  if (outline.length === 0 || outline.readInt16BE(0) >= 0) return [];
  const components: number[] = [];
  let at = 10;
  let flags: number = FLAG.more;
  while (flags & FLAG.more) {
    flags = outline.readUInt16BE(at);
    components.push(outline.readUInt16BE(at + 2));
    at += flags & FLAG.wideArguments ? 8 : 6;
    if (flags & FLAG.scale) at += 2;
    else if (flags & FLAG.twoScales) at += 4;
    else if (flags & FLAG.matrix) at += 8;
  }
  return components;
}

const FLAG = { wideArguments: 0x1, scale: 0x8, more: 0x20, twoScales: 0x40, matrix: 0x80 } as const;

/** Neighbors share one list. */
function widthsOf(sorted: readonly Glyph[], unitsPerEm: number): (number | number[])[] {
  const widths: (number | number[])[] = [];
  let run: number[] = [];
  let next = -1;
  for (const { id, advanceWidth } of sorted) {
    if (id !== next) {
      run = [];
      widths.push(id, run);
    }
    run.push((advanceWidth * 1_000) / unitsPerEm);
    next = id + 1;
  }
  return widths;
}

function unicodeMap(sorted: readonly Glyph[]): string {
  const pairs = sorted
    .filter(({ id }) => id !== 0)
    .map(({ id, codePoints }) => `<${hex(id)}> <${utf16Hex(codePoints)}>`);
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
