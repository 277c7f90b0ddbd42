import fc from 'fast-check';
import { describe, expect, it } from 'vitest';
import { paperText } from '../../src/documents/paper-text.ts';

describe('text made fit for paper', () => {
  it.each([
    ['control characters become a space', 'Line\u0007one\r\ntwo', 'Line one two'],
    ['text cannot be turned around', 'Total \u202E01.9$', 'Total 01.9$'],
    ['invisible letters go', 'Vis\u200Bit\u00AD fee\uFEFF', 'Visit fee'],
    ['accents are joined to their letter', 'Jose\u0301', 'José'],
    ['white space is one space', '  a \u00A0\u2003 b  ', 'a b'],
    ['half a character goes', 'a\uD800b', 'ab'],
    ['one sign of micro is used throughout', '45 \u00B5F', '45 \u03BCF'],
    ['a joiner stays where Sinhala needs it', 'ශ්\u200dරී', 'ශ්\u200dරී'],
    ['a joiner stays where Persian needs it', 'می\u200cخواهم', 'می\u200cخواهم'],
    ['a joiner goes where nothing is joined', 'ශ\u200dරී a\u200db م\u200d', 'ශරී ab م'],
    ['a joiner goes at the end of a word', 'ශ්\u200d ප', 'ශ් ප'],
  ])('%s', (_, raw, text) => {
    expect(paperText(raw, 100)).toBe(text);
  });

  it('shows where a text was cut', () => {
    expect(paperText('abcdefghij', 5)).toBe('abcd…');
    expect(paperText('abcde', 5)).toBe('abcde');
  });

  it('never lets a control character through nor a text grow beyond its bound', () => {
    fc.assert(
      fc.property(
        fc.string({ unit: 'binary', maxLength: 60 }),
        fc.integer({ min: 1, max: 40 }),
        (raw, lengthMax) => {
          const text = paperText(raw, lengthMax);
          expect(text).not.toMatch(/[^\P{Cf}\u200c\u200d]|[\p{Cc}\p{Cs}]/u);
          expect(Array.from(text).length).toBeLessThanOrEqual(lengthMax);
          expect(paperText(text, lengthMax)).toBe(text);
        },
      ),
    );
  });

  it('keeps plain letters as they are but for spaces at the ends and in a row', () => {
    const plain = fc.string({ unit: fc.constantFrom(' ', 'a', 'Z', '~', '!', '7'), maxLength: 12 });
    fc.assert(
      fc.property(plain, (raw) => {
        expect(paperText(raw, 12)).toBe(raw.trim().replace(/ +/g, ' '));
      }),
      { numRuns: 500 },
    );
  });
});
