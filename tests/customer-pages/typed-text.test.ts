import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { typedText } from '../../src/customer-pages/typed-text.ts';
import { text } from '../../src/platform/http/formats.ts';

describe('what was typed into a field', () => {
  it.each([
    ['a zero-width space', 'so\u200bon', 'soon'],
    ['a mark of the byte order', '\ufeffAnn', 'Ann'],
    ['a soft hyphen', 'repa\u00adration', 'reparation'],
    ['a turn of the reading direction', '\u202eAnn\u202c', 'Ann'],
    ['a joiner between letters that never join', 'A\u200dn\u200cn', 'Ann'],
    ['a letter that shows nothing', '\u3164', ''],
    ['a hidden tag', 'Ann\u{e0041}', 'Ann'],
    ['the soft line break of a word processor', 'one\u000btwo', 'one two'],
    ['a line ended as browsers send it', 'one\r\ntwo\rthree', 'one\ntwo\nthree'],
  ])('is read without %s', (_, typed, read) => {
    expect(typedText(typed)).toBe(read);
  });

  // Spelled with their joiners: Unicode Standard, chapters 9.2 (Persian) and 12 (Indic scripts).
  it.each([
    ['a Persian word', '\u0645\u06cc\u200c\u062e\u0648\u0627\u0647\u0645'],
    ['a Sinhala syllable', '\u0dc1\u0dca\u200d\u0dbb\u0dd3'],
    ['a Malayalam word that ends in one', '\u0d05\u0d35\u0d28\u0d4d\u200d'],
    ['a Devanagari half letter', '\u0915\u094d\u200d\u0937'],
    ['a family in one picture', '\u{1f469}\u200d\u{1f469}\u200d\u{1f467}'],
    ['a picture of a heart in color', '\u2764\ufe0f\u200d\u{1f525}'],
    ['a variant of a Han letter', '\u845b\u{e0100}'],
    ['Hebrew beside figures, kept in order', '\u05d0\u05d1\u200e 12'],
    ['a list of lines', '\tone\n\ttwo'],
  ])('keeps what a script is written with: %s', (_, typed) => {
    expect(typedText(typed)).toBe(typed);
  });

  it('is never refused for what nobody can see in it', () => {
    fc.assert(
      fc.property(fc.string({ unit: 'binary', maxLength: 40 }), (typed) => {
        const read = typedText(`a${typed}b`);
        expect(text(200).safeParse(read).success).toBe(true);
        expect(typedText(read)).toBe(read);
      }),
      { numRuns: 5_000 },
    );
  });
});
