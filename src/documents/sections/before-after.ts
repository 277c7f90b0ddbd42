import { GAUGE_HEIGHT_PT } from '../gauge.ts';
import { layLine } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperMeasurement } from '../paper-parts.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import type { Cell } from '../place-rows.ts';
import { addRow, type Sheet, stack } from '../sheet.ts';
import type { PaperBeforeAfter } from '../work-record-paper.ts';
import type { WorkRecordWords } from '../work-record-words.ts';
import { GAUGE_X_PT, LABEL_WIDTH_PT, readingCells } from './reading-cells.ts';

/**
 * The same thing measured before and after the work: two gauges of one scale, one below the other,
 * so that the eye sees what the work changed.
 */
export function addBeforeAfter(
  sheet: Sheet<WorkRecordWords>,
  section: Tag,
  { before, after }: PaperBeforeAfter,
): void {
  const { words } = sheet;
  const block = tagUnder(section, 'Div');
  const told = stack(sheet, block, toldOnce(before ?? after), {
    xPt: PAGE.leftPt,
    topPt: 0,
    widthPt: LABEL_WIDTH_PT - MOMENT_WIDTH_PT,
  });
  const cells: Cell[] = [...told.cells];
  let topPt = 0;
  const addReading = (
    measurement: PaperMeasurement | undefined,
    beside: PaperMeasurement | undefined,
    moment: { word: string; alt: (label: string) => string },
  ): void => {
    if (measurement === undefined) return;
    if (topPt > 0) topPt += GAP_PT;
    const name = moment.alt(measurement.label);
    cells.push(momentCell(sheet, block, moment.word, topPt));
    const reading = readingCells(sheet, block, measurement, { topPt, name, beside });
    cells.push(...reading.cells);
    topPt += reading.heightPt;
  };
  addReading(before, after, words.before);
  addReading(after, before, words.after);
  addRow(sheet, { heightPt: Math.max(told.heightPt, topPt), spaceAbovePt: 12, cells });
}

const MOMENT_WIDTH_PT = 44;
const GAP_PT = 5;

function toldOnce(measurement: PaperMeasurement | undefined) {
  return [
    { text: measurement?.label ?? '', style: TYPE.strong },
    { text: measurement?.limitText ?? '', style: TYPE.small },
  ];
}

/** Beside the track of its gauge, on the left. */
function momentCell({ measure }: Sheet, block: Tag, word: string, topPt: number): Cell {
  const middlePt = topPt + GAUGE_HEIGHT_PT / 3;
  const place = {
    xPt: GAUGE_X_PT - MOMENT_WIDTH_PT - MOMENT_GAP_PT,
    topPt: middlePt - TYPE.label.lineHeightPt / 2,
    widthPt: MOMENT_WIDTH_PT,
    align: 'right',
  } as const;
  return { tag: tagUnder(block, 'P'), inks: [layLine(`${word} `, TYPE.label, place, measure)] };
}

const MOMENT_GAP_PT = 9;
