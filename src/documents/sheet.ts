import { type LaidText, layText } from './lay-text.ts';
import type { Ink, MeasureText, Tag, TagType, TextStyle } from './page-plan.ts';
import { tagUnder } from './page-plan.ts';
import { COLOR, PAGE, TYPE } from './paper-style.ts';
import type { PaperWords } from './paper-words.ts';
import type { Cell, Row } from './place-rows.ts';

/** A paper while it is being written: rows so far, and what every section needs to add its own. */
export interface Sheet<Words extends PaperWords = PaperWords> {
  rows: Row[];
  words: Words;
  measure: MeasureText;
}

export interface ParagraphPlace {
  type?: TagType;
  spaceAbovePt?: number;
  keepWithNext?: boolean;
  xPt?: number;
  widthPt?: number;
}

/** Adds one row; what is not said is: no space above, free to part from the next, no decoration. */
export function addRow(sheet: Sheet, row: Partial<Row> & Pick<Row, 'heightPt' | 'cells'>): void {
  sheet.rows.push({ spaceAbovePt: 0, keepWithNext: false, decoration: [], ...row });
}

/** Adds a section heading, which never stands last on a page. */
export function addHeading(sheet: Sheet, parent: Tag, text: string, spaceAbovePt = 22): void {
  addParagraph(sheet, parent, text, TYPE.heading, {
    type: 'H2',
    spaceAbovePt,
    keepWithNext: true,
  });
  addRow(sheet, { heightPt: 5, cells: [], keepWithNext: true });
}

/**
 * Adds a paragraph, one row for each line, so that a long one may run over a page's end; at least
 * two of its lines stay together on either side, and up to five are never parted.
 */
export function addParagraph(
  sheet: Sheet,
  parent: Tag,
  text: string,
  style: TextStyle,
  place: ParagraphPlace = {},
): void {
  if (text === '') return;
  const { type = 'P', spaceAbovePt = 0, keepWithNext = false } = place;
  const paragraph = tagUnder(parent, type);
  addLines(sheet, paragraph, text, style, place, { spaceAbovePt, keepWithNext });
}

/** Adds a list with a dot before each item; a label may stand on the first item's line. */
export function addBullets(
  sheet: Sheet,
  parent: Tag,
  texts: readonly string[],
  style: TextStyle,
  place: { spaceAbovePt?: number; xPt?: number; labelCell?: Cell } = {},
): void {
  if (texts.length === 0) return;
  const { xPt = PAGE.leftPt } = place;
  const list = tagUnder(parent, 'L', { bullet: 'Disc' });
  texts.forEach((text, index) => {
    const item = tagUnder(list, 'LI');
    const bullet = layText('• ', style, { xPt, topPt: 0, widthPt: 20 }, sheet.measure);
    const dot = { tag: tagUnder(item, 'Lbl'), inks: bullet.inks };
    const { labelCell } = place;
    const lead = index === 0 && labelCell !== undefined ? [labelCell, dot] : [dot];
    const spaceAbovePt = index === 0 ? (place.spaceAbovePt ?? 3) : 2;
    const body = tagUnder(item, 'LBody');
    const widthPt = PAGE.leftPt + PAGE.contentWidthPt - xPt - BULLET_INDENT_PT;
    const bodyPlace = { xPt: xPt + BULLET_INDENT_PT, widthPt };
    addLines(sheet, body, text, style, bodyPlace, { spaceAbovePt, keepWithNext: false, lead });
  });
}

/** Keeps all rows from `firstRow` on together on one page, unless they are higher than the bound. */
export function keepTogether(sheet: Sheet, firstRow: number, heightMaxPt: number): void {
  const rows = sheet.rows.slice(firstRow);
  const heightPt = rows.reduce((sum, row) => sum + row.spaceAbovePt + row.heightPt, 0);
  if (heightPt > heightMaxPt) return;
  for (const row of rows.slice(0, -1)) row.keepWithNext = true;
}

/** Stacks texts in one column, each its own paragraph. */
export function stack(
  sheet: Sheet,
  parent: Tag,
  texts: readonly { text: string; style: TextStyle; spaceAbovePt?: number }[],
  place: { xPt: number; topPt: number; widthPt: number; align?: 'left' | 'right' },
): { cells: Cell[]; heightPt: number } {
  const cells: Cell[] = [];
  let heightPt = 0;
  for (const { text, style, spaceAbovePt = 0 } of texts) {
    if (text === '') continue;
    heightPt += spaceAbovePt;
    const laid = layText(text, style, { ...place, topPt: place.topPt + heightPt }, sheet.measure);
    cells.push({ tag: tagUnder(parent, 'P'), inks: laid.inks });
    heightPt += laid.heightPt;
  }
  return { cells, heightPt };
}

/** A hairline over the whole width of the content. */
export function hairline(yPt: number, color: string = COLOR.hairline, widthPt = 0.6): Ink {
  return {
    kind: 'line',
    fromPt: [PAGE.leftPt, yPt],
    toPt: [PAGE.leftPt + PAGE.contentWidthPt, yPt],
    widthPt,
    color,
  };
}

/** A tinted ground that reaches a little beyond the text on both sides. */
export function tint(yPt: number, heightPt: number, radiusPt: number): Ink {
  return {
    kind: 'rectangle',
    xPt: PAGE.leftPt - TINT_REACH_PT,
    yPt,
    widthPt: PAGE.contentWidthPt + 2 * TINT_REACH_PT,
    heightPt,
    radiusPt,
    fill: COLOR.tint,
  };
}

const BULLET_INDENT_PT = 11;
const TINT_REACH_PT = 12;
const LINES_NEVER_PARTED_MAX = 5;

function addLines(
  sheet: Sheet,
  owner: Tag,
  text: string,
  style: TextStyle,
  place: ParagraphPlace,
  options: { spaceAbovePt: number; keepWithNext: boolean; lead?: readonly Cell[] },
): void {
  const { xPt = PAGE.leftPt, widthPt = PAGE.contentWidthPt } = place;
  const { inks }: LaidText = layText(text, style, { xPt, topPt: 0, widthPt }, sheet.measure);
  inks.forEach((ink, index) => {
    const isFirst = index === 0;
    const isLast = index === inks.length - 1;
    const line: Cell = { tag: owner, inks: [onFirstLine(ink, index * style.lineHeightPt)] };
    addRow(sheet, {
      heightPt: style.lineHeightPt,
      spaceAbovePt: isFirst ? options.spaceAbovePt : 0,
      keepWithNext: isLast
        ? options.keepWithNext
        : inks.length <= LINES_NEVER_PARTED_MAX || isFirst || index === inks.length - 2,
      cells: isFirst ? [...(options.lead ?? []), line] : [line],
    });
  });
}

/** Each line becomes a row of its own and is measured from that row's top. */
function onFirstLine(ink: Ink, lineTopPt: number): Ink {
  return ink.kind === 'text' ? { ...ink, baselinePt: ink.baselinePt - lineTopPt } : ink;
}
