import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperLegalText } from '../paper-parts.ts';
import { TYPE } from '../paper-style.ts';
import { addHeading, addParagraph, keepTogether, type Sheet } from '../sheet.ts';

/** Legal texts as they were given, each under its title. */
export function addLegalTexts(sheet: Sheet, root: Tag, texts: readonly PaperLegalText[]): void {
  if (texts.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.legal);
  texts.forEach(({ title, text }, index) => {
    const firstRow = sheet.rows.length;
    const part = tagUnder(section, 'Sect');
    addParagraph(sheet, part, title, TYPE.strong, {
      type: 'H3',
      spaceAbovePt: index === 0 ? 0 : 9,
      keepWithNext: true,
    });
    for (const paragraph of text.split('\n')) {
      addParagraph(sheet, part, paragraph, TYPE.small, { spaceAbovePt: 2 });
    }
    keepTogether(sheet, firstRow, SHORT_TEXT_HEIGHT_MAX_PT);
  });
}

const SHORT_TEXT_HEIGHT_MAX_PT = 120;
