import { describe, expect, it } from 'vitest';
import { clusterTexts } from '../../src/documents/cluster-texts.ts';

const glyph = (cluster: number, xAdvance = 500) => ({ cluster, xAdvance });

describe('the characters of a word, shared out among its glyphs', () => {
  it.each([
    ['one for each', 'ab', [glyph(0), glyph(1)], false, ['a', 'b']],
    ['one glyph for several', 'fft', [glyph(0)], false, ['fft']],
    [
      'the last of a group says the rest',
      'abcd',
      [glyph(0), glyph(0), glyph(3)],
      false,
      ['a', 'bc', 'd'],
    ],
    ['dots say nothing', 'ab', [glyph(0, 0), glyph(0), glyph(1)], false, ['', 'a', 'b']],
    ['from right to left', 'אב', [glyph(1), glyph(0)], true, ['ב', 'א']],
    ['dots from right to left', 'אב', [glyph(1, 0), glyph(1), glyph(0)], true, ['', 'ב', 'א']],
    [
      'a vowel on both sides',
      'கொ',
      [glyph(0), glyph(0), glyph(0)],
      false,
      ['க', '\u0bc6', '\u0bbe'],
    ],
    ['a letter of two units', '𠀀a', [glyph(0), glyph(2)], false, ['𠀀', 'a']],
  ])('%s', (_, word, glyphs, isRightToLeft, texts) => {
    expect(clusterTexts(glyphs, word, isRightToLeft)).toEqual(texts);
  });
});
