import type { Tag } from '../page-plan.ts';
import type { PaperMeasurement } from '../paper-parts.ts';
import { TYPE } from '../paper-style.ts';
import { addParagraph, addRow, type Sheet } from '../sheet.ts';
import { hasLimit } from './reading-cells.ts';

/** How a gauge is read, said once above the first of them; nothing where none is drawn. */
export function addGaugeLegend(
  sheet: Sheet,
  section: Tag,
  measurements: readonly PaperMeasurement[],
): void {
  if (!measurements.some(hasLimit)) return;
  addParagraph(sheet, section, sheet.words.gaugeLegend, TYPE.small, { keepWithNext: true });
  addRow(sheet, { heightPt: 7, cells: [], keepWithNext: true });
}
