import type { ScriptFace, ScriptGlyph } from './script-face.ts';
import type { CodedGlyph } from './subset-face.ts';

/** A typeface of another script in one file, and the glyphs of it that were drawn. */
export interface UsedScript {
  face: ScriptFace;
  /** What operators call it. */
  name: string;
  glyphs: Iterable<CodedGlyph>;
}

/**
 * The typefaces of other scripts that a file has come to use. Pages call a glyph by a number that
 * belongs to the glyph and to what it says there: what a shaper puts together may say one thing in
 * one word and another in the next.
 */
export class UsedScripts {
  readonly #used = new Map<ScriptFace, UsedScript & { codes: Map<string, CodedGlyph> }>();

  [Symbol.iterator](): Iterator<UsedScript> {
    return this.#used.values();
  }

  nameOf(face: ScriptFace): string {
    return this.#entry(face).name;
  }

  /** The number by which pages call the glyph. */
  code(face: ScriptFace, { id, text }: ScriptGlyph): CodedGlyph {
    const { codes } = this.#entry(face);
    const key = `${id} ${text}`;
    const known = codes.get(key);
    if (known !== undefined) return known;
    const { advanceWidth } = face.font.getGlyph(id);
    const codePoints = Array.from(text, (character) => character.codePointAt(0) ?? 0);
    // Number 0 is kept for what is missing.
    const made = { code: codes.size + 1, id, advanceWidth, codePoints };
    codes.set(key, made);
    return made;
  }

  #entry(face: ScriptFace) {
    const known = this.#used.get(face);
    if (known !== undefined) return known;
    const codes = new Map<string, CodedGlyph>();
    const name = `F${PLAIN_FACES + this.#used.size + 1}`;
    const made = {
      face,
      name,
      codes,
      get glyphs() {
        return codes.values();
      },
    };
    this.#used.set(face, made);
    return made;
  }
}

/** Their names come first. */
const PLAIN_FACES = 2;
