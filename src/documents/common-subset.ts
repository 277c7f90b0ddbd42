import { commonLetters } from './common-letters.ts';
import { type FaceSubset, subsetFace } from './subset-face.ts';
import type { Glyph, ShapedWord, TypeFace } from './type-face.ts';

/**
 * The part of a typeface that some words need. As long as they are written in letters that papers
 * commonly use it is one and the same part, made once: to cut a typeface down costs more than to
 * draw a page. It depends on the words alone, never on what was drawn before.
 */
export function subsetFor(face: TypeFace, words: Iterable<ShapedWord>): FaceSubset {
  const common = commonOf(face);
  const glyphs = new Map<number, Glyph>();
  let isCommon = true;
  for (const word of words) {
    for (const glyph of word.glyphs) {
      glyphs.set(glyph.id, glyph);
      if (!common.ids.has(glyph.id)) isCommon = false;
    }
  }
  return isCommon ? common.subset : subsetFace(face, glyphs.values());
}

interface Common {
  ids: ReadonlySet<number>;
  subset: FaceSubset;
}

const commons = new WeakMap<TypeFace, Common>();

function commonOf(face: TypeFace): Common {
  const known = commons.get(face);
  if (known !== undefined) return known;
  const letters = commonLetters.map((letter) =>
    face.font.glyphForCodePoint(letter.codePointAt(0) ?? 0),
  );
  const joined = LIGATURES.flatMap((letters) => face.font.layout(letters).glyphs);
  const byId = new Map([...letters, ...joined].map((glyph) => [glyph.id, glyph]));
  const made = { ids: new Set(byId.keys()), subset: subsetFace(face, byId.values()) };
  commons.set(face, made);
  return made;
}

/** All that the typeface joins of them by itself. */
const LIGATURES = ['ff', 'ft', 'fft'];
