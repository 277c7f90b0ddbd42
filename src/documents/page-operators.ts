import type { CircleInk, FontFace, Ink, RectangleInk, TextInk } from './page-plan.ts';
import type { ShapedWord, TypeFace } from './type-face.ts';

/** The typefaces of a file, and the words of each that were drawn. */
export type UsedFaces = Record<FontFace, UsedFace>;

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
    const { face, name, words } = this.#faces[style.face];
    const { sizePt } = style;
    this.#enterText();
    this.#fillWith(style.color);
    const font = `/${name} ${pt(sizePt)} Tf`;
    if (font !== this.#font) this.#lines.push(font);
    this.#font = font;
    // Words follow each other in one line of glyphs, until a mark has to stand beside it.
    let line = '';
    let linePt = xPt;
    let penPt = xPt;
    for (const word of face.shape(text)) {
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
