import type { Font, Glyph as FontGlyph } from 'fontkit';
import { type GlyphRun, shapeByPairs } from './shape-by-pairs.ts';

/** A glyph as a font names it: its number there, and the characters it stands for. */
export type Glyph = Pick<FontGlyph, 'id' | 'advanceWidth' | 'codePoints'>;

/** A word with its ligatures, kerning and marks settled, ready to be shown at any size. */
export interface ShapedWord {
  widthEm: number;
  glyphs: readonly Glyph[];
  /** One piece, unless a mark stands off the line. */
  pieces: readonly WordPiece[];
  isInLine: boolean;
}

export interface WordPiece {
  /** From the word's beginning. */
  xEm: number;
  /** Above the baseline. */
  yEm: number;
  /** What stands between the brackets of the operator TJ (ISO 32000-1, 9.4.3). */
  shown: string;
}

/**
 * A typeface that shapes each word once and remembers it. Shaping is the dearest part of a paper,
 * papers say mostly the same words, and every word is needed twice: to measure and to draw. Glyphs
 * keep the numbers they have in the font, so that a word is shown by the same letters in every file.
 */
export class TypeFace {
  readonly font: Font;
  readonly #words = new Map<string, ShapedWord>();
  readonly #byPairs: (word: string) => GlyphRun | undefined;

  constructor(font: Font) {
    this.font = font;
    this.#byPairs = shapeByPairs(font);
  }

  /** The words of a text, each with the space that follows it. */
  shape(text: string): ShapedWord[] {
    const words: ShapedWord[] = [];
    let from = 0;
    while (from < text.length) {
      const space = text.indexOf(' ', from);
      const to = space === -1 ? text.length : space + 1;
      words.push(this.#word(text.slice(from, to)));
      from = to;
    }
    return words;
  }

  widthEm(text: string): number {
    if (!text.includes(' ')) return text === '' ? 0 : this.#word(text).widthEm;
    let widthEm = 0;
    for (const word of this.shape(text)) widthEm += word.widthEm;
    return widthEm;
  }

  #word(text: string): ShapedWord {
    const known = this.#words.get(text);
    if (known !== undefined) return known;
    const run = this.#byPairs(text);
    const word =
      run === undefined ? shapeWhole(this.font, text) : inLine(run, this.font.unitsPerEm);
    if (this.#words.size >= WORDS_MAX) this.#words.clear();
    this.#words.set(text, word);
    return word;
  }
}

/** Some 5 MB per face at most; the words of one evening's quotes are a few hundred. */
const WORDS_MAX = 5_000;

/** TJ counts in thousandths of the type size, whatever the font counts in. */
const SHOWN_PER_EM = 1_000;

function shapeWhole(font: Font, text: string): ShapedWord {
  const { glyphs, positions } = font.layout(text);
  const perEm = font.unitsPerEm;
  const pieces: WordPiece[] = [];
  let units = 0;
  let wasOffLine = true;
  glyphs.forEach((glyph, index) => {
    const { xAdvance = 0, xOffset = 0, yOffset = 0 } = positions[index] ?? {};
    const isOffLine = xOffset !== 0 || yOffset !== 0;
    if (isOffLine || wasOffLine) {
      pieces.push({ xEm: (units + xOffset) / perEm, yEm: yOffset / perEm, shown: '' });
    }
    const piece = pieces.at(-1);
    if (piece !== undefined) piece.shown += shownGlyph(glyph, xAdvance, perEm);
    units += xAdvance;
    wasOffLine = isOffLine;
  });
  for (const piece of pieces) piece.shown = joined(piece.shown);
  const isInLine = pieces.every(({ xEm, yEm }) => xEm === 0 && yEm === 0);
  return { widthEm: units / perEm, glyphs, pieces, isInLine };
}

function inLine({ glyphs, advances }: GlyphRun, perEm: number): ShapedWord {
  let shown = '';
  let units = 0;
  glyphs.forEach((glyph, index) => {
    const advance = advances[index] ?? 0;
    shown += shownGlyph(glyph, advance, perEm);
    units += advance;
  });
  const pieces = [{ xEm: 0, yEm: 0, shown: joined(shown) }];
  return { widthEm: units / perEm, glyphs, pieces, isInLine: true };
}

/** A glyph and, where it is kerned, how far to go back after it. */
function shownGlyph({ id, advanceWidth }: Glyph, advance: number, perEm: number): string {
  const back = Math.round(((advanceWidth - advance) * SHOWN_PER_EM) / perEm);
  return `<${id.toString(16).padStart(4, '0')}>${back === 0 ? '' : back}`;
}

function joined(shown: string): string {
  return shown.replaceAll('><', '');
}
