import { type Tag, tagUnder } from '../page-plan.ts';
import { TYPE } from '../paper-style.ts';
import { addBullets, addHeading, keepTogether, type Sheet } from '../sheet.ts';

/** The usual cautions, as a list. */
export function addCautions(sheet: Sheet, root: Tag, cautions: readonly string[]): void {
  if (cautions.length === 0) return;
  const firstRow = sheet.rows.length;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.cautions);
  addBullets(sheet, section, cautions, TYPE.body);
  keepTogether(sheet, firstRow, HEIGHT_MAX_PT);
}

const HEIGHT_MAX_PT = 160;
