import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { commonLetters } from '../../src/documents/common-letters.ts';
import { paperFonts } from '../../src/documents/paper-fonts.ts';
import { shapeByPairs } from '../../src/documents/shape-by-pairs.ts';

const words = fc.oneof(
  fc.string({ unit: fc.constantFrom(...commonLetters), minLength: 1, maxLength: 12 }),
  fc.string({ unit: fc.constantFrom(...'AVWTYfijlrtLPo.,’“ '), minLength: 1, maxLength: 12 }),
);

/** fontkit shapes the word as a whole, by all rules that the typeface has. */
describe.each(Object.entries(paperFonts()))('a word in the face %s', (_, { font }) => {
  const byPairs = shapeByPairs(font);

  it('shaped by pairs of letters is the word that is shaped as a whole', () => {
    let shaped = 0;
    fc.assert(
      fc.property(words, (word) => {
        const run = byPairs(word);
        if (run === undefined) return;
        shaped += 1;
        const { glyphs, positions } = font.layout(word);
        expect(run.glyphs.map(({ id }) => id)).toEqual(glyphs.map(({ id }) => id));
        expect(run.advances).toEqual(positions.map(({ xAdvance }) => xAdvance));
        expect(positions.every(({ xOffset, yOffset }) => !xOffset && !yOffset)).toBe(true);
      }),
      { numRuns: 600 },
    );
    expect(shaped).toBeGreaterThan(200);
  });

  it('is left to the whole where letters join or are rare', () => {
    expect(byPairs('office')).toBeUndefined();
    expect(byPairs('after')).toBeUndefined();
    expect(byPairs('Ελένη')).toBeUndefined();
    expect(byPairs('x\u0302')).toBeUndefined();
    expect(byPairs('$1,234.56 ')).toBeDefined();
  });
});
