import { type Tag, tagUnder } from '../page-plan.ts';
import { COLOR, TYPE } from '../paper-style.ts';
import { addBullets, addHeading, addParagraph, keepTogether, type Sheet } from '../sheet.ts';

/** The usual cautions, as a list. */
export function addCautions(sheet: Sheet, root: Tag, cautions: readonly string[]): void {
  if (cautions.length === 0) return;
  const firstRow = sheet.rows.length;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.cautions);
  addBullets(sheet, section, cautions, TYPE.body);
  keepTogether(sheet, firstRow, HEIGHT_MAX_PT);
}

/** The same as one paragraph: a bill of a few lines with its cautions fits on one page. */
export function addCautionsInBrief(sheet: Sheet, root: Tag, cautions: readonly string[]): void {
  const firstRow = sheet.rows.length;
  const text = `${sheet.words.cautions}: ${cautions.join(' ')}`;
  addParagraph(sheet, tagUnder(root, 'Sect'), text, BRIEF, { spaceAbovePt: 14 });
  keepTogether(sheet, firstRow, HEIGHT_MAX_PT);
}

const BRIEF = { ...TYPE.small, color: COLOR.ink };
const HEIGHT_MAX_PT = 160;
