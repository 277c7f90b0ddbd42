import { readFileSync } from 'node:fs';
import { createRequire } from 'node:module';
import type { Font } from 'fontkit';
import { openFont } from './open-font.ts';
import type { FontFace } from './page-plan.ts';
import { TypeFace } from './type-face.ts';

/**
 * The two faces every paper is set in, parsed once per process: parsing costs five times what
 * drawing a page does. Source Sans 3 has tabular figures, so that amounts align, covers Latin,
 * Greek and Cyrillic, and its license (OFL 1.1) allows embedding in any document.
 */
export function paperFonts(): Record<FontFace, TypeFace> {
  fonts ??= {
    regular: openFace('400Regular/SourceSans3_400Regular.ttf'),
    semibold: openFace('600SemiBold/SourceSans3_600SemiBold.ttf'),
  };
  return fonts;
}

/** Whether both faces have the character, so that no other typeface is asked for it. */
export function isPlain(character: string): boolean {
  const codePoint = character.codePointAt(0) ?? 0;
  return !isLatinLigature(codePoint) && paperFonts().regular.font.hasGlyphForCodePoint(codePoint);
}

let fonts: Record<FontFace, TypeFace> | undefined;

function openFace(fileName: string): TypeFace {
  const path = createRequire(import.meta.url).resolve(
    `@expo-google-fonts/source-sans-3/${fileName}`,
  );
  const font = openFont(readFileSync(path), fileName);
  nameGlyphsOnce(font);
  return new TypeFace(font);
}

/**
 * A parsed font remembers for each glyph the first character that reached it, and the file's
 * character map is written from that memory. Met in the order of whatever papers came before, two
 * equal papers could differ; so every glyph gets its name here, in one fixed order. Ligatures are
 * left out: they are named by the letters they join.
 */
function nameGlyphsOnce(font: Font): void {
  for (const character of PREFERRED_CHARACTERS) {
    font.glyphForCodePoint(character.codePointAt(0) ?? 0);
  }
  for (const codePoint of font.characterSet) {
    if (!isLatinLigature(codePoint)) font.glyphForCodePoint(codePoint);
  }
}

/** The members of look-alike pairs that `paperText` settles on. */
const PREFERRED_CHARACTERS = ' -μΔΩφ⁼';

function isLatinLigature(codePoint: number): boolean {
  return codePoint >= 0xfb00 && codePoint <= 0xfb06;
}
