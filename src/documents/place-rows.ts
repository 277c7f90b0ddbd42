import type { Box, Ink, PlannedPage, Tag } from './page-plan.ts';
import { PAGE } from './paper-style.ts';

/**
 * A strip across the page that is never cut: its ink is measured from its own top, and each piece
 * of ink hangs under the tag whose meaning it carries.
 */
export interface Row {
  heightPt: number;
  /** White space above; none at the top of a page. */
  spaceAbovePt: number;
  /** This row never ends a page without the next one: headings, first lines, lines above a total. */
  keepWithNext: boolean;
  cells: readonly Cell[];
  decoration: readonly Ink[];
  /** The header row of the table this row belongs to, drawn again where the table goes on. */
  tableHeader?: TableHeader | undefined;
}

export interface Cell {
  tag: Tag;
  inks: readonly Ink[];
  /** Where the figure lies that this cell draws. */
  figureBox?: Box | undefined;
}

export interface TableHeader {
  heightPt: number;
  inks: readonly Ink[];
  decoration: readonly Ink[];
}

/**
 * Sets rows one below the other onto pages and hangs their ink under their tags. Rows kept together
 * move to the next page together; only a group taller than a whole page is cut, between its rows.
 */
export function placeRows(rows: readonly Row[]): PlannedPage[] {
  const pages = [emptyPage()];
  for (const { row, pageIndex, topPt, isFirst } of stepsDown(rows)) {
    while (pages.length <= pageIndex) pages.push(emptyPage());
    const page = pages[pageIndex];
    if (page === undefined) continue;
    if (isFirst && row.tableHeader !== undefined) repeatHeader(row.tableHeader, page);
    placeRow(row, page, pageIndex, topPt);
  }
  return pages;
}

/** The page, counted from nought, that each row comes to; nothing is set there yet. */
export function pageOfEachRow(rows: readonly Row[]): number[] {
  return Array.from(stepsDown(rows), ({ pageIndex }) => pageIndex);
}

interface Step {
  row: Row;
  pageIndex: number;
  topPt: number;
  isFirst: boolean;
}

function* stepsDown(rows: readonly Row[]): Generator<Step> {
  let pageIndex = 0;
  let topPt: number = PAGE.topPt;
  const turnUnlessFits = (heightPt: number) => {
    if (topPt === PAGE.topPt || topPt + heightPt <= PAGE.contentBottomPt) return;
    pageIndex += 1;
    topPt = PAGE.topPt;
  };
  for (const group of groupsKeptTogether(rows)) {
    turnUnlessFits(groupHeightPt(group));
    for (const row of group) {
      turnUnlessFits(row.spaceAbovePt + row.heightPt);
      const isFirst = topPt === PAGE.topPt;
      topPt += isFirst ? (row.tableHeader?.heightPt ?? 0) : row.spaceAbovePt;
      yield { row, pageIndex, topPt, isFirst };
      topPt += row.heightPt;
    }
  }
}

/** Draws the header of the row's table again at the top of a page. */
function repeatHeader({ inks, decoration }: TableHeader, page: PlannedPage): void {
  page.repeatedHeader.push(...shiftAll(inks, PAGE.topPt));
  page.decoration.push(...shiftAll(decoration, PAGE.topPt));
}

function placeRow(row: Row, page: PlannedPage, pageIndex: number, topPt: number): void {
  page.decoration.push(...shiftAll(row.decoration, topPt));
  for (const { tag, inks, figureBox } of row.cells) {
    if (inks.length > 0) {
      tag.children.push({ kind: 'mark', pageIndex, inks: shiftAll(inks, topPt) });
    }
    if (figureBox !== undefined) {
      tag.meaning.box = { ...figureBox, yPt: figureBox.yPt + topPt };
    }
  }
}

function groupsKeptTogether(rows: readonly Row[]): Row[][] {
  const groups: Row[][] = [];
  let group: Row[] = [];
  for (const row of rows) {
    group.push(row);
    if (!row.keepWithNext) {
      groups.push(group);
      group = [];
    }
  }
  if (group.length > 0) groups.push(group);
  return groups;
}

function groupHeightPt(group: readonly Row[]): number {
  return group.reduce((sumPt, row) => sumPt + row.spaceAbovePt + row.heightPt, 0);
}

function emptyPage(): PlannedPage {
  return { decoration: [], repeatedHeader: [], footer: [] };
}

function shiftAll(inks: readonly Ink[], byPt: number): Ink[] {
  return inks.map((ink) => shift(ink, byPt));
}

function shift(ink: Ink, byPt: number): Ink {
  switch (ink.kind) {
    case 'text':
      return { ...ink, baselinePt: ink.baselinePt + byPt };
    case 'rectangle':
      return { ...ink, yPt: ink.yPt + byPt };
    case 'line':
      return { ...ink, fromPt: moved(ink.fromPt, byPt), toPt: moved(ink.toPt, byPt) };
    case 'circle':
      return { ...ink, centerPt: moved(ink.centerPt, byPt) };
    case 'polygon':
      return { ...ink, pointsPt: ink.pointsPt.map((point) => moved(point, byPt)) };
    case 'blocks':
      return { ...ink, blocks: ink.blocks.map((box) => ({ ...box, yPt: box.yPt + byPt })) };
  }
}

function moved([x, y]: readonly [number, number], byPt: number): readonly [number, number] {
  return [x, y + byPt];
}
