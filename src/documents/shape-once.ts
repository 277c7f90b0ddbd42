import type { Font } from 'fontkit';

/**
 * A font that shapes each word once and remembers it. Shaping (ligatures, kerning, marks) is most of
 * the cost of a paper, papers say mostly the same words, and every word is needed twice: to measure
 * and to draw.
 */
export function shapeOnce(font: Font): Font {
  const runs = new Map<string, ShapedRun>();
  const layout = (text: string): ShapedRun => {
    let run = runs.get(text);
    if (run === undefined) {
      const { glyphs, positions } = font.layout(text);
      run = new ShapedRun(glyphs, positions);
      if (runs.size >= WORDS_MAX) runs.clear();
      runs.set(text, run);
    }
    return run.copy();
  };
  const remembering: Font = Object.create(font, { layout: { value: layout } });
  return remembering;
}

/** Some 5 MB per face at most; the words of one evening's quotes are a few hundred. */
const WORDS_MAX = 5_000;

type Glyphs = ReturnType<Font['layout']>['glyphs'];
type Positions = ReturnType<Font['layout']>['positions'];

/** pdfkit scales the positions it is given in place, so each caller gets positions of its own. */
class ShapedRun {
  readonly glyphs: Glyphs;
  readonly positions: Positions;

  constructor(glyphs: Glyphs, positions: Positions) {
    this.glyphs = glyphs;
    this.positions = positions;
  }

  get advanceWidth(): number {
    return this.positions.reduce((sum, { xAdvance }) => sum + xAdvance, 0);
  }

  copy(): ShapedRun {
    return new ShapedRun(
      this.glyphs,
      this.positions.map((position) => ({ ...position })),
    );
  }
}
