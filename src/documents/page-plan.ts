/**
 * A laid-out paper: pages with everything on them placed, and beside the ink its meaning, the tree
 * that a screen reader walks. All measures are points (1/72 inch) from the page's top left corner.
 */
export interface PagePlan {
  title: string;
  subject: string;
  language: string;
  createdAt: string;
  pages: readonly PlannedPage[];
  root: Tag;
}

export interface PlannedPage {
  /** Rules and tints, drawn first, so that text lies on them. */
  decoration: Ink[];
  /** A table's header row again, at the top of a page the table continues on. */
  repeatedHeader: Ink[];
  footer: Ink[];
}

/** What a drawing is made of. */
export type PlainInk = TextInk | RectangleInk | LineInk | CircleInk | PolygonInk;

export type Ink = PlainInk | BlocksInk;

export interface TextInk {
  kind: 'text';
  text: string;
  xPt: number;
  baselinePt: number;
  style: TextStyle;
}

export interface RectangleInk {
  kind: 'rectangle';
  xPt: number;
  yPt: number;
  widthPt: number;
  heightPt: number;
  radiusPt: number;
  fill: string;
}

export interface LineInk {
  kind: 'line';
  fromPt: readonly [number, number];
  toPt: readonly [number, number];
  widthPt: number;
  color: string;
}

export interface CircleInk {
  kind: 'circle';
  centerPt: readonly [number, number];
  radiusPt: number;
  fill: string;
  stroke: string;
}

export interface PolygonInk {
  kind: 'polygon';
  pointsPt: readonly (readonly [number, number])[];
  fill: string;
}

/** Many rectangles filled as one shape, so that no hairline of white stands between neighbors. */
export interface BlocksInk {
  kind: 'blocks';
  blocks: readonly Box[];
  fill: string;
}

export type FontFace = 'regular' | 'semibold';

export interface TextStyle {
  face: FontFace;
  sizePt: number;
  lineHeightPt: number;
  color: string;
}

/** How wide a text comes out, in points. The layout learns it from outside and so stays pure. */
export type MeasureText = (text: string, style: TextStyle) => number;

export interface Box {
  xPt: number;
  yPt: number;
  widthPt: number;
  heightPt: number;
}

/** The structure types of PDF 1.7 (ISO 32000-1, 14.8.4) that papers use. */
export type TagType =
  | 'Document'
  | 'Sect'
  | 'Div'
  | 'H1'
  | 'H2'
  | 'H3'
  | 'P'
  | 'Span'
  | 'L'
  | 'LI'
  | 'Lbl'
  | 'LBody'
  | 'Table'
  | 'THead'
  | 'TBody'
  | 'TR'
  | 'TH'
  | 'TD'
  | 'Figure';

export interface Tag {
  kind: 'tag';
  type: TagType;
  meaning: TagMeaning;
  children: (Tag | Mark)[];
}

export interface TagMeaning {
  /** What a figure says, for those who do not see it. */
  alt?: string;
  /** An abbreviation in full. */
  expanded?: string;
  scope?: 'Column' | 'Row';
  columnSpan?: number;
  bullet?: 'Disc' | 'Square';
  /** Where a figure lies; known once it is placed. */
  box?: Box;
}

/** Ink on one page that belongs to the tag it hangs under. */
export interface Mark {
  kind: 'mark';
  pageIndex: number;
  inks: Ink[];
}

/** A new tag with nothing in it yet. */
export function tag(type: TagType, meaning: TagMeaning = {}): Tag {
  return { kind: 'tag', type, meaning, children: [] };
}

/** Hangs a new tag under a parent and returns it. */
export function tagUnder(parent: Tag, type: TagType, meaning: TagMeaning = {}): Tag {
  const child = tag(type, meaning);
  parent.children.push(child);
  return child;
}
