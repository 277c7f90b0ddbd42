import type { Font } from 'fontkit';
import { commonLetters } from './common-letters.ts';
import type { Glyph } from './type-face.ts';

/** A word as a font sets it on one line: each glyph with the way to the next. */
export interface GlyphRun {
  glyphs: Glyph[];
  /** In the font's units, kerning included. */
  advances: number[];
}

/**
 * Shapes words of common letters from what each letter does before the next. A typeface kerns by
 * pairs, and of such letters it joins none but those that a pair already shows; so a word that was
 * never met costs little, and most words of a paper are amounts and numbers that were not.
 * @returns undefined for words that have to be shaped as a whole: rare letters, ligatures, marks
 */
export function shapeByPairs(font: Font): (word: string) => GlyphRun | undefined {
  const common = new Set(commonLetters);
  const singles = new Map<string, Glyph | undefined>();
  const pairs = new Map<string, number | undefined>();
  const single = (letter: string): Glyph | undefined => {
    if (!singles.has(letter)) {
      const isCommon = common.has(letter);
      singles.set(letter, isCommon ? font.layout(letter).glyphs[0] : undefined);
    }
    return singles.get(letter);
  };
  const advanceIn = (pair: string): number | undefined => {
    if (!pairs.has(pair)) pairs.set(pair, pairAdvance(font, pair));
    return pairs.get(pair);
  };
  return (word) => {
    const glyphs: Glyph[] = [];
    const advances: number[] = [];
    for (let at = 0; at < word.length; at += 1) {
      const glyph = single(word.charAt(at));
      if (glyph === undefined) return undefined;
      const isLast = at === word.length - 1;
      const advance = isLast ? glyph.advanceWidth : advanceIn(word.slice(at, at + 2));
      if (advance === undefined) return undefined;
      glyphs.push(glyph);
      advances.push(advance);
    }
    return { glyphs, advances };
  };
}

/** @returns undefined for two letters that become one, or do not stand on the line */
function pairAdvance(font: Font, pair: string): number | undefined {
  const { glyphs, positions } = font.layout(pair);
  const isPlain = glyphs.length === 2 && positions.every((each) => !each.xOffset && !each.yOffset);
  return isPlain && positions[1]?.xAdvance === glyphs[1]?.advanceWidth
    ? positions[0]?.xAdvance
    : undefined;
}
