import { layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { addRow, hairline, type Sheet } from '../sheet.ts';

/** A word for what is told, and what there is to tell; nothing is printed of what is not known. */
export type Fact = readonly [label: string, text: string | undefined];

/** Facts one below the other, what they are on the left. */
export function addFacts(sheet: Sheet, parent: Tag, facts: readonly Fact[]): void {
  for (const [label, text] of facts) {
    if (text === undefined || text === '') continue;
    const block = tagUnder(parent, 'Div');
    const left = { xPt: PAGE.leftPt, topPt: 5, widthPt: LABEL_WIDTH_PT };
    const name = layText(`${label} `, TYPE.label, left, sheet.measure);
    const right = {
      xPt: TEXT_X_PT,
      topPt: 4,
      widthPt: PAGE.contentWidthPt - LABEL_WIDTH_PT - GAP_PT,
    };
    const told = layText(text, TYPE.body, right, sheet.measure);
    addRow(sheet, {
      heightPt: Math.max(name.heightPt, told.heightPt) + 8,
      cells: [
        { tag: tagUnder(block, 'P'), inks: name.inks },
        { tag: tagUnder(block, 'P'), inks: told.inks },
      ],
      decoration: [hairline(0)],
    });
  }
}

const LABEL_WIDTH_PT = 158;
const GAP_PT = 14;
const TEXT_X_PT = PAGE.leftPt + LABEL_WIDTH_PT + GAP_PT;
