import { layLine } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { addBullets, type Sheet } from '../sheet.ts';
import { GAUGE_X_PT, LABEL_WIDTH_PT } from './reading-cells.ts';

/** A label in the readings' left column, the sentences beside it where the gauges stand. */
export function addLabelledBullets(
  sheet: Sheet,
  section: Tag,
  label: string,
  texts: readonly string[],
): void {
  if (texts.length === 0) return;
  const place = { xPt: PAGE.leftPt, topPt: 1, widthPt: LABEL_WIDTH_PT };
  const labelCell = {
    tag: tagUnder(section, 'P'),
    inks: [layLine(`${label} `, TYPE.label, place, sheet.measure)],
  };
  addBullets(sheet, section, texts, TYPE.body, { spaceAbovePt: 8, xPt: GAUGE_X_PT, labelCell });
}
