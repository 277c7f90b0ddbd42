import type { CleanText } from '../clean-parts.ts';
import { LENGTH } from '../clean-parts.ts';
import { layLine, layText } from '../lay-text.ts';
import { type Ink, type Tag, tagUnder } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { Cell } from '../place-rows.ts';
import { addRow, type Sheet, tint } from '../sheet.ts';
import type { GlanceColumn } from './report.ts';

/** Two columns of figures side by side, neither before the other in size or ink. */
export function addGlanceColumns(
  sheet: Sheet,
  parent: Tag,
  columns: readonly [GlanceColumn, GlanceColumn],
  clean: CleanText,
): void {
  const laid = columns.map((column, index) => {
    const xPt = PAGE.leftPt + index * (WIDTH_PT + 2 * GAP_PT);
    return layColumn(sheet, tagUnder(parent, 'Sect'), column, { xPt, clean });
  });
  const heightPt = Math.max(...laid.map((column) => column.heightPt)) + PADDING_PT;
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 14,
    cells: laid.flatMap(({ cells }) => cells),
    decoration: [tint(0, heightPt, 6), ...laid.flatMap(({ rules }) => rules)],
  });
}

const PADDING_PT = 11;
const GAP_PT = 14;
const WIDTH_PT = (PAGE.contentWidthPt - 2 * GAP_PT) / 2;
const ROW_PADDING_PT = 4;

function layColumn(
  { measure }: Sheet,
  section: Tag,
  { heading, rows }: GlanceColumn,
  { xPt, clean }: { xPt: number; clean: CleanText },
) {
  const place = { xPt, widthPt: WIDTH_PT };
  const title = layText(
    clean(heading, LENGTH.title),
    TYPE.subheading,
    { ...place, topPt: PADDING_PT },
    measure,
  );
  const cells: Cell[] = [{ tag: tagUnder(section, 'H2'), inks: title.inks }];
  const rules: Ink[] = [];
  let topPt = PADDING_PT + title.heightPt + 3;
  for (const { label, figure } of rows) {
    const text = clean(figure, LENGTH.line);
    const at = { ...place, topPt: topPt + ROW_PADDING_PT };
    const widthPt = WIDTH_PT - measure(text, TYPE.strong) - 10;
    // The space keeps label and figure apart when the text is taken from the page.
    const words = layText(`${clean(label, LENGTH.line)} `, TYPE.body, { ...at, widthPt }, measure);
    const amount = layLine(text, TYPE.strong, { ...at, align: 'right' }, measure);
    const paragraph = tagUnder(section, 'P');
    cells.push({ tag: paragraph, inks: words.inks }, { tag: paragraph, inks: [amount] });
    rules.push(ruleAt(xPt, topPt));
    topPt += words.heightPt + 2 * ROW_PADDING_PT;
  }
  return { cells, rules, heightPt: topPt };
}

function ruleAt(xPt: number, yPt: number): Ink {
  const ends = { fromPt: [xPt, yPt], toPt: [xPt + WIDTH_PT, yPt] } as const;
  return { kind: 'line', ...ends, widthPt: 0.6, color: COLOR.hairline };
}
