import { layLine, layText } from '../lay-text.ts';
import { type Ink, type Tag, type TextStyle, tagUnder } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { Cell, TableHeader } from '../place-rows.ts';
import { addRow, hairline, type Sheet, tint } from '../sheet.ts';

export interface TableContent {
  /** The first column takes the room the others leave; the others are set to the right. */
  columns: readonly [string, ...string[]];
  body: readonly TableBody[];
  totals: readonly TableTotal[];
}

export interface TableBody {
  heading: string;
  lines: readonly TableLine[];
}

export interface TableLine {
  description: string;
  detail: string;
  /** One text for each column after the first. */
  cells: readonly string[];
}

export interface TableTotal {
  label: string;
  amount: string;
  weight: 'plain' | 'grand';
}

/**
 * Adds a table of lines in groups with its totals. The header row comes again on every page the
 * table runs over, and the totals never stand on a page without the last two lines above them.
 */
export function addTable(sheet: Sheet, parent: Tag, content: TableContent): void {
  const table = tagUnder(parent, 'Table');
  const columns = columnPlaces(sheet, content);
  const header = addTableHeader(sheet, table, content, columns);
  const body = tagUnder(table, 'TBody');
  const linesLeft = content.body.reduce((count, group) => count + group.lines.length, 0);
  let lineIndex = 0;
  for (const group of content.body) {
    addGroupHeading(sheet, body, group.heading, columns, header);
    for (const line of group.lines) {
      lineIndex += 1;
      const nearTotals = lineIndex > linesLeft - LINES_WITH_TOTALS;
      addTableLine(sheet, body, line, columns, header, nearTotals);
    }
  }
  content.totals.forEach((total, index) => {
    const isLast = index === content.totals.length - 1;
    addTotal(sheet, body, total, columns, { header, isFirst: index === 0, isLast });
  });
}

const LINES_WITH_TOTALS = 2;
const LINE_PADDING_PT = 2.75;
const GROUP_PADDING_PT = 8;
const COLUMN_GAP_PT = 22;
const HEADER_HEIGHT_PT = 19;
const CALCULATION_WIDTH_MAX_PT = 150;

interface ColumnPlace {
  xPt: number;
  widthPt: number;
}

/** Columns from the right as wide as their widest text, so that amounts of any size fit. */
function columnPlaces(sheet: Sheet, content: TableContent): ColumnPlace[] {
  const { measure } = sheet;
  const places: ColumnPlace[] = [];
  const last = content.columns.length - 1;
  let rightPt = PAGE.leftPt + PAGE.contentWidthPt;
  for (let column = last; column >= 1; column -= 1) {
    const texts = content.body.flatMap((group) =>
      group.lines.map((line) => line.cells[column - 1]),
    );
    const widths = [
      measure(content.columns[column] ?? '', TYPE.label),
      ...texts.map((text) => measure(text ?? '', TYPE.body)),
      ...(column === last ? content.totals.map(({ amount }) => measure(amount, TYPE.total)) : []),
    ];
    const widest = widths.reduce((most, width) => Math.max(most, width), 0);
    const widthPt = column === last ? widest : Math.min(widest, CALCULATION_WIDTH_MAX_PT);
    places.unshift({ xPt: rightPt - widthPt, widthPt });
    rightPt -= widthPt + COLUMN_GAP_PT;
  }
  return [{ xPt: PAGE.leftPt, widthPt: rightPt - PAGE.leftPt }, ...places];
}

function addTableHeader(
  sheet: Sheet,
  table: Tag,
  content: TableContent,
  columns: readonly ColumnPlace[],
): TableHeader {
  const row = tagUnder(tagUnder(table, 'THead'), 'TR');
  const cells = columns.map((place, index): Cell => {
    const align = index === 0 ? 'left' : 'right';
    const text = `${content.columns[index] ?? ''} `;
    const ink = layLine(text, TYPE.label, { ...place, topPt: 3, align }, sheet.measure);
    return { tag: tagUnder(row, 'TH', { scope: 'Column' }), inks: [ink] };
  });
  const decoration = [hairline(HEADER_HEIGHT_PT, COLOR.accent, 0.9)];
  addRow(sheet, {
    heightPt: HEADER_HEIGHT_PT,
    spaceAbovePt: 6,
    keepWithNext: true,
    cells,
    decoration,
  });
  return { heightPt: HEADER_HEIGHT_PT, inks: cells.flatMap((cell) => cell.inks), decoration };
}

function addGroupHeading(
  sheet: Sheet,
  body: Tag,
  heading: string,
  columns: readonly ColumnPlace[],
  tableHeader: TableHeader,
): void {
  if (heading === '') return;
  const meaning = { scope: 'Row', columnSpan: columns.length } as const;
  const cell = tagUnder(tagUnder(body, 'TR'), 'TH', meaning);
  const place = { xPt: PAGE.leftPt, topPt: 0, widthPt: PAGE.contentWidthPt };
  const { inks, heightPt } = layText(
    heading,
    TYPE.strong,
    { ...place, topPt: GROUP_PADDING_PT - 1 },
    sheet.measure,
  );
  addRow(sheet, {
    heightPt: heightPt + GROUP_PADDING_PT,
    keepWithNext: true,
    cells: [{ tag: cell, inks }],
    tableHeader,
  });
}

function addTableLine(
  sheet: Sheet,
  body: Tag,
  line: TableLine,
  columns: readonly ColumnPlace[],
  tableHeader: TableHeader,
  keepWithNext: boolean,
): void {
  const row = tagUnder(body, 'TR');
  const [first, ...others] = columns;
  if (first === undefined) return;
  const cell = tagUnder(row, 'TD');
  const place = { ...first, topPt: LINE_PADDING_PT };
  const description = layText(line.description, TYPE.body, place, sheet.measure);
  const detailTopPt = place.topPt + description.heightPt;
  const detail = layText(line.detail, TYPE.small, { ...place, topPt: detailTopPt }, sheet.measure);
  const texts: Cell[] = [{ tag: tagUnder(cell, 'P'), inks: description.inks }];
  if (line.detail !== '') texts.push({ tag: tagUnder(cell, 'P'), inks: detail.inks });
  const last = others.length - 1;
  const cells = others.map((column, index): Cell & { heightPt: number } => {
    const style = index === last ? TYPE.body : QUIET;
    const cellPlace = { ...column, topPt: LINE_PADDING_PT, align: 'right' } as const;
    const laid = layText(line.cells[index] ?? '', style, cellPlace, sheet.measure);
    return { tag: tagUnder(row, 'TD'), inks: laid.inks, heightPt: laid.heightPt };
  });
  const tallestPt = cells.reduce((most, { heightPt }) => Math.max(most, heightPt), 0);
  const heightPt =
    Math.max(description.heightPt + detail.heightPt, tallestPt) + 2 * LINE_PADDING_PT;
  addRow(sheet, {
    heightPt,
    keepWithNext,
    cells: [...texts, ...cells],
    decoration: [hairline(heightPt)],
    tableHeader,
  });
}

const QUIET: TextStyle = { ...TYPE.body, color: COLOR.soft };

interface TotalOptions {
  header: TableHeader;
  isFirst: boolean;
  isLast: boolean;
}

/** A total spans all columns but the amounts', and its amount aligns with them to the cent. */
function addTotal(
  sheet: Sheet,
  body: Tag,
  total: TableTotal,
  columns: readonly ColumnPlace[],
  { header, isFirst, isLast }: TotalOptions,
): void {
  const isGrand = total.weight === 'grand';
  const style: TextStyle = isGrand ? TYPE.total : TYPE.body;
  const paddingPt = isGrand ? 6 : 2;
  const row = tagUnder(body, 'TR');
  const meaning = { scope: 'Row', columnSpan: columns.length - 1 } as const;
  const labelTag = tagUnder(row, 'TH', meaning);
  const amountWidthPt = sheet.measure(total.amount, style);
  const widthPt = PAGE.contentWidthPt - amountWidthPt - COLUMN_GAP_PT;
  const place = { xPt: PAGE.leftPt, topPt: paddingPt, widthPt };
  const label = layText(total.label, style, place, sheet.measure);
  const amountPlace = { ...place, widthPt: PAGE.contentWidthPt, align: 'right' } as const;
  const amount = layLine(total.amount, style, amountPlace, sheet.measure);
  const heightPt = label.heightPt + 2 * paddingPt;
  const ground: Ink[] = isGrand ? [tint(0, heightPt, 5)] : [];
  addRow(sheet, {
    heightPt,
    spaceAbovePt: isFirst || isGrand ? 5 : 0,
    keepWithNext: !isLast,
    cells: [
      { tag: labelTag, inks: label.inks },
      { tag: tagUnder(row, 'TD'), inks: [amount] },
    ],
    decoration: ground,
    tableHeader: header,
  });
}
