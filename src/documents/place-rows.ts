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
  let page = emptyPage();
  let topPt: number = PAGE.topPt;
  const pages = [page];
  const turnUnlessFits = (heightPt: number) => {
    if (topPt === PAGE.topPt || topPt + heightPt <= PAGE.contentBottomPt) return;
    page = emptyPage();
    topPt = PAGE.topPt;
    pages.push(page);
  };
  for (const group of groupsKeptTogether(rows)) {
    turnUnlessFits(groupHeightPt(group));
    for (const row of group) {
      turnUnlessFits(row.spaceAbovePt + row.heightPt);
      topPt += topPt === PAGE.topPt ? repeatHeader(row, page) : row.spaceAbovePt;
      placeRow(row, page, pages.length - 1, topPt);
      topPt += row.heightPt;
    }
  }
  return pages;
}

/** Draws the header of the row's table at the top of a page; returns the height it takes. */
function repeatHeader({ tableHeader }: Row, page: PlannedPage): number {
  if (tableHeader === undefined) return 0;
  page.repeatedHeader.push(...shiftAll(tableHeader.inks, PAGE.topPt));
  page.decoration.push(...shiftAll(tableHeader.decoration, PAGE.topPt));
  return tableHeader.heightPt;
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
