import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperMeasurement } from '../paper-parts.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import { addRow, type Sheet, stack } from '../sheet.ts';
import { LABEL_WIDTH_PT, readingCells } from './reading-cells.ts';

/** A reading with its limit in words, its gauge, its figure and its verdict. */
export function addMeasurement(
  sheet: Sheet,
  section: Tag,
  measurement: PaperMeasurement,
  keepWithNext: boolean,
): void {
  const { label, limitText } = measurement;
  const block = tagUnder(section, 'Div');
  const text = stack(
    sheet,
    block,
    [
      { text: label, style: TYPE.strong },
      { text: limitText, style: TYPE.small },
    ],
    { xPt: PAGE.leftPt, topPt: 0, widthPt: LABEL_WIDTH_PT },
  );
  const reading = readingCells(sheet, block, measurement, { topPt: 0 });
  addRow(sheet, {
    heightPt: Math.max(text.heightPt, reading.heightPt),
    spaceAbovePt: 11,
    keepWithNext,
    cells: [...text.cells, ...reading.cells],
  });
}
