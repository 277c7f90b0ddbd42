import { inflateSync } from 'node:zlib';
import fc from 'fast-check';
import { create, type Font } from 'fontkit';
import { describe, expect, it } from 'vitest';
import { readTables } from '../../src/documents/font-tables.ts';
import { paperFonts } from '../../src/documents/paper-fonts.ts';
import { subsetFace } from '../../src/documents/subset-face.ts';
import type { Glyph } from '../../src/documents/type-face.ts';

const faces = Object.entries(paperFonts());

/** Asked for by its number alone, a glyph has no letters, and the font keeps it so: hence another. */
function opened(file: Buffer): Font {
  const font = create(file);
  if (!('layout' in font)) throw new Error('a collection');
  return font;
}

/** fontkit, which reads what we cut, knows nothing of how it was cut. */
describe.each(faces)('a cut of the face %s', (_, face) => {
  const font = opened(face.file);
  const cutOf = (glyphs: Iterable<Glyph>) => opened(inflateSync(subsetFace(face, glyphs).program));

  it('draws each glyph that was asked for as the whole typeface does, and no other', () => {
    const ids = fc.uniqueArray(fc.nat({ max: font.numGlyphs - 1 }), {
      minLength: 1,
      maxLength: 30,
    });
    fc.assert(
      fc.property(ids, (asked) => {
        const cut = cutOf(asked.map((id) => font.getGlyph(id)));
        for (const id of asked) {
          expect(cut.getGlyph(id).path.toSVG()).toBe(font.getGlyph(id).path.toSVG());
          expect(cut.getGlyph(id).advanceWidth).toBe(font.getGlyph(id).advanceWidth);
        }
        expect(cut.numGlyphs).toBeLessThanOrEqual(font.numGlyphs);
      }),
      { numRuns: 30 },
    );
    const one = cutOf(font.glyphsForString('Z'));
    const [z] = font.glyphsForString('Z');
    const drawn = Array.from({ length: one.numGlyphs }, (_, id) => id).filter(
      (id) => one.getGlyph(id).path.commands.length > 0,
    );
    expect(drawn).toEqual([0, z?.id]);
  });

  it('brings the parts of letters that are put together from others', () => {
    const [letter] = font.glyphsForString('\u01D7');
    if (letter === undefined) throw new Error('no letter');
    const cut = cutOf([letter]);
    expect(cut.getGlyph(letter.id).path.commands.length).toBeGreaterThan(10);
    expect(cut.getGlyph(letter.id).path.toSVG()).toBe(letter.path.toSVG());
  });

  it('is the same whatever the order, and its tables sum to what it says of them', () => {
    const letters = font.glyphsForString('Handgloves Ñandú Żółć');
    const { program, widths } = subsetFace(face, new Set(letters));
    const turned = subsetFace(face, new Set([...letters].reverse()));
    expect(Buffer.compare(turned.program, program)).toBe(0);
    expect(turned.widths).toEqual(widths);
    const file = inflateSync(program);
    [...readTables(file).values()].forEach((table, index) => {
      const padded = Buffer.concat([table], Math.ceil(table.length / 4) * 4);
      let sum = 0;
      for (let at = 0; at < padded.length; at += 4) sum = (sum + padded.readUInt32BE(at)) % 2 ** 32;
      expect(file.readUInt32BE(12 + index * 16 + 4)).toBe(sum);
    });
  });

  it('names each glyph by the letters it stands for', () => {
    const { glyphs } = face.font.layout('Zfft');
    const { unicode } = subsetFace(face, glyphs);
    const [, map = ''] = inflateSync(unicode).toString('latin1').split('beginbfchar');
    const pairs = [...map.matchAll(/^<([0-9a-f]{4})> <([0-9a-f]+)>$/gm)].map(([, id, text]) => [
      Number.parseInt(id ?? '', 16),
      text,
    ]);
    const [z, joined] = glyphs;
    expect(pairs).toEqual([
      [z?.id, '005a'],
      [joined?.id, '006600660074'],
    ]);
  });
});
