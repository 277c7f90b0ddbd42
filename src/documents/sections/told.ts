import { type Tag, tagUnder } from '../page-plan.ts';
import { TYPE } from '../paper-style.ts';
import { addHeading, addParagraph, keepTogether, type Sheet } from '../sheet.ts';

/** A heading and what is told under it; nothing where there is nothing to tell. */
export function addTold(sheet: Sheet, root: Tag, heading: string, texts: readonly string[]): void {
  const told = texts.filter((text) => text !== '');
  if (told.length === 0) return;
  const firstRow = sheet.rows.length;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, heading);
  told.forEach((text, index) => {
    addParagraph(sheet, section, text, TYPE.body, { spaceAbovePt: index === 0 ? 0 : 4 });
  });
  keepTogether(sheet, firstRow, HEIGHT_MAX_PT);
}

const HEIGHT_MAX_PT = 140;
