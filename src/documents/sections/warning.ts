import { layText } from '../lay-text.ts';
import { type Ink, type Tag, tagUnder } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import { addRow, type Sheet } from '../sheet.ts';

/** A danger somebody was warned of: white on a dark ground, so that no one can overlook it. */
export function addWarning(sheet: Sheet, root: Tag, danger: string | undefined): void {
  if (danger === undefined || danger === '') return;
  const section = tagUnder(root, 'Sect');
  const place = { xPt: PAGE.leftPt, widthPt: PAGE.contentWidthPt };
  const title = layText(sheet.words.danger, TITLE, { ...place, topPt: PADDING_PT }, sheet.measure);
  const textTopPt = PADDING_PT + title.heightPt + 2;
  const text = layText(danger, TEXT, { ...place, topPt: textTopPt }, sheet.measure);
  const heightPt = textTopPt + text.heightPt + PADDING_PT;
  const ground: Ink = {
    kind: 'rectangle',
    xPt: PAGE.leftPt - REACH_PT,
    yPt: 0,
    widthPt: PAGE.contentWidthPt + 2 * REACH_PT,
    heightPt,
    radiusPt: 6,
    fill: COLOR.ink,
  };
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 12,
    cells: [
      { tag: tagUnder(section, 'H2'), inks: title.inks },
      { tag: tagUnder(section, 'P'), inks: text.inks },
    ],
    decoration: [ground],
  });
}

const PADDING_PT = 11;
const REACH_PT = 12;
const TITLE = { ...TYPE.label, sizePt: 10, lineHeightPt: 14, color: COLOR.white };
const TEXT = { ...TYPE.price, sizePt: 12.5, lineHeightPt: 17, color: COLOR.white };
