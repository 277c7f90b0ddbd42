import { describe, expect, it } from 'vitest';
import { drawableText, openPaperFaces, plainFaces } from '../../src/documents/paper-faces.ts';
import { isPlain } from '../../src/documents/paper-fonts.ts';
import { paperText } from '../../src/documents/paper-text.ts';
import { hanLetters, hanUnpromised, lettersOf, promisedScripts } from './promised-scripts.ts';

async function printed(text: string): Promise<string> {
  return drawableText(text, await openPaperFaces([text]));
}

describe('the letters that papers promise to print', () => {
  it.each(promisedScripts)('are all there: $script', async (script) => {
    const letters = lettersOf(script);
    expect(letters.length).toBeGreaterThan(30);
    expect(await printed(letters.join(''))).toBe(letters.join(''));
  });

  it('are there for Chinese names of China and Taiwan, Japanese and Korean ones', async () => {
    const letters = hanLetters();
    expect(letters.size).toBeGreaterThan(10_000);
    const text = Array.from(await printed([...letters].join('')));
    const boxed = [...letters].filter((_, at) => text[at] === '□');
    expect(new Set(boxed)).toEqual(new Set(hanUnpromised));
  }, 60_000);

  it('hold what no papers were printed with before: Latin, Greek and Cyrillic', () => {
    const names = 'Ñuñoa Żółć Đặng Ελένη Παπαδοπούλου Людмила Ґалаґан';
    expect(drawableText(names, plainFaces())).toBe(names);
  });
});

describe('what nobody promised', () => {
  it.each([
    ['emoji', '😀🔧👍'],
    ['Egyptian hieroglyphs', '𓀀'],
    ['cuneiform', '𒀀'],
    ['Old Italic', '𐌀'],
    ['Cherokee', 'ᎣᏏᏲ'],
    ['Tibetan', 'བོད'],
    ['Mongolian', 'ᠮᠣᠩ'],
    ['Syriac', 'ܐܒܓ'],
    ['Canadian syllables', 'ᐃᓄᒃ'],
    ['rare letters of Chinese', '𠀀㐀乪'],
  ])('shows a visible box for each letter: %s', async (_, text) => {
    expect(await printed(text)).toBe('□'.repeat(Array.from(text).length));
  });
});

describe('the faces of a paper', () => {
  it('are the plain ones alone while its letters are plain', async () => {
    expect((await openPaperFaces(['José Ñúñez', 'Ελένη', '$1,234.56'])).scripts).toEqual([]);
  });

  it.each(['regular', 'semibold'] as const)(
    'say every letter that they draw as itself when it is copied: %s',
    (weight) => {
      const face = plainFaces().plain[weight];
      const letters = face.font.characterSet
        .map((codePoint) => String.fromCodePoint(codePoint))
        .filter(isPlain)
        .map((letter) => paperText(letter, 1))
        .filter((letter) => letter !== '');
      expect(letters.length).toBeGreaterThan(1_500);
      const copied = letters.map((letter) =>
        String.fromCodePoint(
          ...face
            .shape(letter)
            .flatMap(({ glyphs }) => glyphs.flatMap((glyph) => glyph.codePoints)),
        ),
      );
      expect(copied).toEqual(letters);
    },
  );

  it.each([
    ['Chinese by itself', '骨', 'NotoSansSC'],
    ['Japanese beside kana', '骨 と', 'NotoSansJP'],
    ['Korean beside Hangul', '骨 골', 'NotoSansKR'],
  ])('draw a letter of Han as %s', async (_, text, name) => {
    const { scripts } = await openPaperFaces([text]);
    const face = scripts.find(({ regular }) => regular.has('骨'));
    expect(face?.regular.font.postscriptName).toContain(name);
  });

  it('are of two weights', async () => {
    const { scripts } = await openPaperFaces(['דוד']);
    const [hebrew] = scripts;
    const width = (face: 'regular' | 'semibold') => hebrew?.[face].shape('דוד', true).widthEm ?? 0;
    expect(width('semibold')).toBeGreaterThan(width('regular'));
  });
});
