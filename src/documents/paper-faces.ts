import { isDirectionMark } from './direction-marks.ts';
import { openScriptFace } from './open-script-face.ts';
import type { FontFace } from './page-plan.ts';
import { isPlain, paperFonts } from './paper-fonts.ts';
import type { ScriptFace } from './script-face.ts';
import { scriptFamilies } from './script-families.ts';
import { scriptFile } from './script-files.ts';
import type { TypeFace } from './type-face.ts';

/** The typefaces that one paper is set in. */
export interface PaperFaces {
  plain: Record<FontFace, TypeFace>;
  /** For characters that the plain faces lack: those that have them, in both weights. */
  scripts: readonly Record<FontFace, ScriptFace>[];
}

/** Enough for a paper whose texts the plain faces can draw. */
export function plainFaces(): PaperFaces {
  return { plain: paperFonts(), scripts: [] };
}

/**
 * Opens the typefaces that a paper needs beside the plain ones. Which they are depends on the texts
 * alone, never on what else is open.
 */
export async function openPaperFaces(texts: Iterable<string>): Promise<PaperFaces> {
  const rare = rareCharacters(texts);
  if (rare.size === 0) return plainFaces();
  const missing = new Set(rare);
  const scripts: Record<FontFace, ScriptFace>[] = [];
  for (const family of scriptFamilies([...rare].join(''))) {
    const paths = [...missing].map((each) => scriptFile(family, each.codePointAt(0) ?? 0));
    for (const path of new Set(paths)) {
      if (path === undefined) continue;
      const regular = await openScriptFace(path, WEIGHTS.regular);
      const had = [...missing].filter((character) => regular.has(character));
      if (had.length === 0) continue;
      scripts.push({ regular, semibold: await openScriptFace(path, WEIGHTS.semibold) });
      for (const character of had) missing.delete(character);
    }
  }
  return { plain: paperFonts(), scripts };
}

/** The weights of the plain faces. */
const WEIGHTS: Record<FontFace, number> = { regular: 400, semibold: 600 };

function rareCharacters(texts: Iterable<string>): Set<string> {
  const rare = new Set<string>();
  for (const text of texts) {
    if (ASCII_ONLY.test(text)) continue;
    for (const character of text) if (!isPlain(character)) rare.add(character);
  }
  // They only stand between letters whose typeface has them.
  for (const joiner of '\u200c\u200d') rare.delete(joiner);
  return rare;
}

const ASCII_ONLY = /^[ -~]*$/;

/** Stands where no typeface has a glyph, so that nothing is lost in silence. */
const UNKNOWN_CHARACTER = '□';

/** The text with a visible box in place of each character that none of the faces can draw. */
export function drawableText(text: string, { scripts }: PaperFaces): string {
  if (ASCII_ONLY.test(text)) return text;
  return Array.from(text, (character) => {
    const isDrawable =
      isPlain(character) ||
      isDirectionMark(character) ||
      scripts.some(({ regular }) => regular.has(character));
    return isDrawable ? character : UNKNOWN_CHARACTER;
  }).join('');
}
