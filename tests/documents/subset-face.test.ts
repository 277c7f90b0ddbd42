import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import { inflateSync } from 'node:zlib';
import fc from 'fast-check';
import { create, type Font } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { paperFonts } from '../../src/documents/paper-fonts.ts';
import { subsetFace } from '../../src/documents/subset-face.ts';
import type { Glyph } from '../../src/documents/type-face.ts';

const faces = [
  ['regular', '400Regular/SourceSans3_400Regular.ttf'],
  ['semibold', '600SemiBold/SourceSans3_600SemiBold.ttf'],
] as const;
const { resolve } = createRequire(import.meta.url);

/** A font of the test's own: asked for by its number alone, a glyph has no letters, and stays so. */
function opened(file: Uint8Array): Font {
  const font = create(Buffer.from(file));
  if (!('layout' in font)) throw new Error('a collection');
  return font;
}

/**
 * From the table of widths itself. Asked for the width of a glyph, fontkit looks at its outline too,
 * also where there is none: behind an empty glyph that is the last of the file nothing can be read.
 */
function advanceIn(font: Font, place: number): number {
  const { hmtx } = font as unknown as { hmtx: { metrics: { get(at: number): Metric } } };
  return hmtx.metrics.get(place).advance;
}

interface Metric {
  advance: number;
}

describe.each(faces)('a cut of the face %s', (name, file) => {
  const face = paperFonts()[name];
  // A word is set before it is cut: a glyph of joined letters has its name from the word.
  const joined = face.font.layout('Zfft').glyphs;
  const whole = opened(readFileSync(resolve(`@expo-google-fonts/source-sans-3/${file}`)));

  /** Draws by the numbers of the whole typeface, as a page does. */
  const cutOf = (glyphs: Iterable<Glyph>) => {
    const { program, places } = subsetFace(face, glyphs);
    const font = opened(inflateSync(program));
    const map = inflateSync(places);
    const placeOf = (id: number) => map.readUInt16BE(2 * id);
    return {
      font,
      glyph: (id: number) => font.getGlyph(placeOf(id)),
      advanceOf: (id: number) => advanceIn(font, placeOf(id)),
    };
  };

  it('draws each glyph that was asked for as the whole typeface does, and no other', () => {
    const ids = fc.uniqueArray(fc.nat({ max: whole.numGlyphs - 1 }), {
      minLength: 1,
      maxLength: 30,
    });
    fc.assert(
      fc.property(ids, (asked) => {
        const cut = cutOf(asked.map((id) => whole.getGlyph(id)));
        for (const id of asked) {
          expect(cut.glyph(id).path.toSVG()).toBe(whole.getGlyph(id).path.toSVG());
          expect(cut.advanceOf(id)).toBe(whole.getGlyph(id).advanceWidth);
        }
      }),
      { numRuns: 30 },
    );
    const one = cutOf(whole.glyphsForString('Z')).font;
    expect(one.numGlyphs).toBe(2);
  });

  it('brings the parts of letters that are put together from others', () => {
    const [letter] = whole.glyphsForString('\u01D7');
    if (letter === undefined) throw new Error('no letter');
    const { glyph } = cutOf([letter]);
    expect(glyph(letter.id).path.commands.length).toBeGreaterThan(10);
    expect(glyph(letter.id).path.toSVG()).toBe(letter.path.toSVG());
  });

  it('is the same whatever the order', () => {
    const letters = whole.glyphsForString('Handgloves Ñandú Żółć');
    const cut = subsetFace(face, new Set(letters));
    expect(subsetFace(face, new Set([...letters].reverse()))).toEqual(cut);
  });

  it('names each glyph by the letters it stands for', () => {
    const { unicode } = subsetFace(face, joined);
    const [, map = ''] = inflateSync(unicode).toString('latin1').split('beginbfchar');
    const pairs = [...map.matchAll(/^<([0-9a-f]{4})> <([0-9a-f]+)>$/gm)].map(([, id, text]) => [
      Number.parseInt(id ?? '', 16),
      text,
    ]);
    const [z, fft] = joined;
    expect(pairs).toEqual([
      [z?.id, '005a'],
      [fft?.id, '006600660074'],
    ]);
  });
});
