import { glyphPath } from './glyph-path.ts';
import type { CircleInk, FontFace, Ink, RectangleInk, TextInk, TextStyle } from './page-plan.ts';
import type { PaperFaces } from './paper-faces.ts';
import { type LineRun, type ScriptRun, setLine } from './set-line.ts';
import type { ShapedWord, TypeFace } from './type-face.ts';
import type { UsedScripts } from './used-scripts.ts';

/** The typefaces of a file, and what was drawn of each. */
export interface UsedFaces {
  paper: PaperFaces;
  plain: Record<FontFace, UsedFace>;
  scripts: UsedScripts;
}

export interface UsedFace {
  face: TypeFace;
  /** What operators call it. */
  name: string;
  words: Set<ShapedWord>;
}

/**
 * Writes the operators that draw one page (ISO 32000-1, annex A). Measures are as planned, from the
 * page's top left corner: pdfkit turns each page's axis over before anything is drawn, and texts are
 * turned back. Colors, widths and typefaces are named only where they change.
 */
export class PageOperators {
  readonly #faces: UsedFaces;
  /** The names of the typefaces of other scripts that this page calls for. */
  readonly scriptNames = new Set<string>();
  readonly #lines: string[] = [];
  #isInText = false;
  #font = '';
  #fill = '';
  #stroke = '';
  #lineWidthPt = Number.NaN;

  constructor(faces: UsedFaces) {
    this.#faces = faces;
  }

  get bytes(): Uint8Array {
    return Buffer.from(`${this.#lines.join('\n')}\n`, 'latin1');
  }

  /** Ink that belongs to an element, by the number under which the element finds it. */
  drawContent(type: string, identifier: number, inks: readonly Ink[]): void {
    this.#lines.push(`/${type} <</MCID ${identifier}>> BDC`);
    this.#drawMarked(inks);
  }

  /** Ink that only frames what is said. */
  drawArtifact(type: 'Pagination' | 'Layout', inks: readonly Ink[]): void {
    if (inks.length === 0) return;
    this.#lines.push(`/Artifact <</Type /${type}>> BDC`);
    this.#drawMarked(inks);
  }

  #drawMarked(inks: readonly Ink[]): void {
    for (const ink of inks) this.#draw(ink);
    this.#leaveText();
    this.#lines.push('EMC');
  }

  #draw(ink: Ink): void {
    if (ink.kind === 'text') {
      this.#drawText(ink);
      return;
    }
    this.#leaveText();
    switch (ink.kind) {
      case 'rectangle':
        this.#fillWith(ink.fill);
        this.#lines.push(rectanglePath(ink), 'f');
        return;
      case 'line':
        this.#strokeWith(ink.color, ink.widthPt);
        this.#lines.push(`${at(ink.fromPt)} m ${at(ink.toPt)} l S`);
        return;
      case 'circle':
        this.#fillWith(ink.fill);
        this.#strokeWith(ink.stroke, CIRCLE_LINE_PT);
        this.#lines.push(circlePath(ink), 'B');
        return;
      case 'polygon':
        this.#fillWith(ink.fill);
        this.#lines.push(`${ink.pointsPt.map(at).join(' l ').replace(' l ', ' m ')} l h f`);
        return;
      case 'blocks':
        this.#fillWith(ink.fill);
        for (const { xPt, yPt, widthPt, heightPt } of ink.blocks) {
          this.#lines.push(`${pt(xPt)} ${pt(yPt)} ${pt(widthPt)} ${pt(heightPt)} re`);
        }
        this.#lines.push('f');
    }
  }

  #drawText({ text, xPt, baselinePt, style }: TextInk): void {
    this.#enterText();
    this.#fillWith(style.color);
    const { paper, plain } = this.#faces;
    if (paper.scripts.length === 0) {
      this.#drawWords(plain[style.face].face.shape(text), xPt, baselinePt, style);
      return;
    }
    for (const run of setLine(text, style.face, paper)) this.#drawRun(run, xPt, baselinePt, style);
  }

  /** Runs are drawn in the order of reading, wherever on the line they stand. */
  #drawRun(run: LineRun, linePt: number, baselinePt: number, style: TextStyle): void {
    const xPt = linePt + run.xEm * style.sizePt;
    if (run.kind === 'script') this.#drawScript(run, xPt, baselinePt, style);
    else this.#drawWords(run.words, xPt, baselinePt, style);
  }

  #drawWords(shaped: readonly ShapedWord[], xPt: number, baselinePt: number, style: TextStyle) {
    const { name, words } = this.#faces.plain[style.face];
    const { sizePt } = style;
    this.#useFont(name, sizePt);
    // Words follow each other in one line of glyphs, until a mark has to stand beside it.
    let line = '';
    let linePt = xPt;
    let penPt = xPt;
    for (const word of shaped) {
      words.add(word);
      const { pieces } = word;
      if (word.isInLine) {
        if (line === '') linePt = penPt;
        line += pieces[0]?.shown ?? '';
      } else {
        this.#show(line, linePt, baselinePt);
        line = '';
        for (const { xEm, yEm, shown } of pieces) {
          this.#show(shown, penPt + xEm * sizePt, baselinePt - yEm * sizePt);
        }
      }
      penPt += word.widthEm * sizePt;
    }
    this.#show(line, linePt, baselinePt);
  }

  /**
   * The glyphs follow each other without a jump, so that a reader takes them for one text: marks are
   * reached by going back and forth, and by raising them (ISO 32000-1, 9.3.7 and 9.4.3). A glyph that
   * says nothing is drawn as a mere shape: every reader makes some letter out of it otherwise.
   */
  #drawScript({ face, glyphs }: ScriptRun, xPt: number, yPt: number, { sizePt }: TextStyle): void {
    const { scripts } = this.#faces;
    const { font } = face;
    const name = scripts.nameOf(face);
    this.scriptNames.add(name);
    this.#useFont(name, sizePt);
    this.#lines.push(`1 0 0 -1 ${pt(xPt)} ${pt(yPt)} Tm`);
    const shapes: string[] = [];
    let shown = '';
    let raised = 0;
    let units = 0;
    let back = 0;
    for (const glyph of glyphs) {
      const { text, xAdvance, xOffset, yOffset } = glyph;
      if (text === '') {
        const originPt = [xPt + (units * sizePt) / font.unitsPerEm, yPt] as const;
        shapes.push(glyphPath(font, glyph, originPt, sizePt));
        back -= xAdvance;
      } else {
        const { code, advanceWidth } = scripts.code(face, glyph);
        if (yOffset !== raised) {
          this.#showOn(shown);
          shown = '';
          raised = yOffset;
          this.#lines.push(`${pt((raised * sizePt) / font.unitsPerEm)} Ts`);
        }
        shown += `${kern(back - xOffset, font.unitsPerEm)}<${hexOf(code)}>`;
        back = advanceWidth - xAdvance + xOffset;
      }
      units += xAdvance;
    }
    this.#showOn(shown);
    if (raised !== 0) this.#lines.push('0 Ts');
    if (shapes.length === 0) return;
    this.#leaveText();
    this.#lines.push(...shapes);
    this.#enterText();
  }

  #showOn(glyphs: string): void {
    if (glyphs !== '') this.#lines.push(`[${glyphs.replaceAll('><', '')}] TJ`);
  }

  #useFont(name: string, sizePt: number): void {
    const font = `/${name} ${pt(sizePt)} Tf`;
    if (font !== this.#font) this.#lines.push(font);
    this.#font = font;
  }

  #show(glyphs: string, xPt: number, yPt: number): void {
    if (glyphs !== '') this.#lines.push(`1 0 0 -1 ${pt(xPt)} ${pt(yPt)} Tm [${glyphs}] TJ`);
  }

  #enterText(): void {
    if (!this.#isInText) this.#lines.push('BT');
    this.#isInText = true;
  }

  #leaveText(): void {
    if (this.#isInText) this.#lines.push('ET');
    this.#isInText = false;
  }

  #fillWith(color: string): void {
    if (color !== this.#fill) this.#lines.push(`${rgb(color)} rg`);
    this.#fill = color;
  }

  #strokeWith(color: string, widthPt: number): void {
    if (color !== this.#stroke) this.#lines.push(`${rgb(color)} RG`);
    if (widthPt !== this.#lineWidthPt) this.#lines.push(`${pt(widthPt)} w`);
    this.#stroke = color;
    this.#lineWidthPt = widthPt;
  }
}

/** How far to go back between two glyphs, in thousandths of the type size. */
function kern(units: number, unitsPerEm: number): string {
  const back = Math.round((units * 1_000) / unitsPerEm);
  return back === 0 ? '' : ` ${back} `;
}

function hexOf(value: number): string {
  return value.toString(16).padStart(4, '0');
}

const CIRCLE_LINE_PT = 1.5;

/** How far a curve's handles reach, of the radius, for it to come near a quarter of a circle. */
const QUARTER = (4 * (Math.SQRT2 - 1)) / 3;

function circlePath({ centerPt: [x, y], radiusPt: radius }: CircleInk): string {
  const reach = radius * QUARTER;
  return [
    `${at([x - radius, y])} m`,
    curve([x - radius, y - reach], [x - reach, y - radius], [x, y - radius]),
    curve([x + reach, y - radius], [x + radius, y - reach], [x + radius, y]),
    curve([x + radius, y + reach], [x + reach, y + radius], [x, y + radius]),
    curve([x - reach, y + radius], [x - radius, y + reach], [x - radius, y]),
    'h',
  ].join('\n');
}

function rectanglePath({ xPt, yPt, widthPt, heightPt, radiusPt }: RectangleInk): string {
  const radius = Math.min(radiusPt, widthPt / 2, heightPt / 2);
  if (radius <= 0) return `${pt(xPt)} ${pt(yPt)} ${pt(widthPt)} ${pt(heightPt)} re`;
  const [left, top, right, bottom] = [xPt, yPt, xPt + widthPt, yPt + heightPt];
  const rest = radius * (1 - QUARTER);
  return [
    `${at([left + radius, top])} m ${at([right - radius, top])} l`,
    curve([right - rest, top], [right, top + rest], [right, top + radius]),
    `${at([right, bottom - radius])} l`,
    curve([right, bottom - rest], [right - rest, bottom], [right - radius, bottom]),
    `${at([left + radius, bottom])} l`,
    curve([left + rest, bottom], [left, bottom - rest], [left, bottom - radius]),
    `${at([left, top + radius])} l`,
    curve([left, top + rest], [left + rest, top], [left + radius, top]),
    'h',
  ].join('\n');
}

type Point = readonly [number, number];

function curve(one: Point, other: Point, to: Point): string {
  return `${at(one)} ${at(other)} ${at(to)} c`;
}

function at([x, y]: Point): string {
  return `${pt(x)} ${pt(y)}`;
}

/** A thousandth of a point is finer than any printer. */
function pt(value: number): number {
  return Math.round(value * 1_000) / 1_000;
}

/** '#0b5a66' as three shares of full light. */
function rgb(color: string): string {
  const known = shares.get(color);
  if (known !== undefined) return known;
  const value = Number.parseInt(color.slice(1), 16);
  const made = [value >> 16, (value >> 8) & 0xff, value & 0xff]
    .map((part) => pt(part / 255))
    .join(' ');
  shares.set(color, made);
  return made;
}

/** A paper has eight colors. */
const shares = new Map<string, string>();
