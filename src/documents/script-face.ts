import type { Font } from 'fontkit';
import type { Buffer as ShapeBuffer, Font as ShapeFont } from 'harfbuzzjs';
import { clusterTexts } from './cluster-texts.ts';

/** The part of HarfBuzz that shapes; it comes in when the first paper needs it. */
export interface Shaper {
  bufferOf(text: string, isRightToLeft: boolean): ShapeBuffer;
  shape(font: ShapeFont, buffer: ShapeBuffer): void;
}

/** A glyph where a shaper has put it, in the font's units. */
export interface ScriptGlyph {
  id: number;
  /** The characters that it alone says; of several glyphs for one character, the others say none. */
  text: string;
  xAdvance: number;
  xOffset: number;
  yOffset: number;
}

/** A word of another script, its glyphs from left to right. */
export interface ScriptWord {
  widthEm: number;
  glyphs: readonly ScriptGlyph[];
}

/**
 * A typeface whose letters change their shape and place by their neighbors, shaped by HarfBuzz:
 * fontkit, which cuts the typeface down for a file, fails at some of these scripts.
 */
export class ScriptFace {
  readonly font: Font;
  readonly #shapeFont: ShapeFont;
  readonly #shaper: Shaper;
  readonly #words = new Map<string, ScriptWord>();

  constructor(font: Font, shapeFont: ShapeFont, shaper: Shaper) {
    this.font = font;
    this.#shapeFont = shapeFont;
    this.#shaper = shaper;
  }

  has(character: string): boolean {
    return this.font.hasGlyphForCodePoint(character.codePointAt(0) ?? 0);
  }

  shape(text: string, isRightToLeft: boolean): ScriptWord {
    const key = `${isRightToLeft ? '<' : '>'}${text}`;
    const known = this.#words.get(key);
    if (known !== undefined) return known;
    const word = this.#shaped(text, isRightToLeft);
    if (this.#words.size >= WORDS_MAX) this.#words.clear();
    this.#words.set(key, word);
    return word;
  }

  #shaped(text: string, isRightToLeft: boolean): ScriptWord {
    const buffer = this.#shaper.bufferOf(text, isRightToLeft);
    this.#shaper.shape(this.#shapeFont, buffer);
    const placed = buffer
      .getGlyphInfosAndPositions()
      .map(({ codepoint, cluster, xAdvance = 0, xOffset = 0, yOffset = 0 }) => ({
        id: codepoint,
        cluster,
        xAdvance,
        xOffset,
        yOffset,
      }));
    const texts = clusterTexts(placed, text, isRightToLeft);
    const glyphs = placed.map(({ cluster, ...glyph }, at) => ({ ...glyph, text: texts[at] ?? '' }));
    const units = glyphs.reduce((sum, { xAdvance }) => sum + xAdvance, 0);
    return { widthEm: units / this.font.unitsPerEm, glyphs };
  }
}

/** A paper in another script says some hundred words. */
const WORDS_MAX = 1_000;
