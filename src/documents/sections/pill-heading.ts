import { layLine, layText } from '../lay-text.ts';
import { type Ink, type Tag, tagUnder } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import { addRow, type Sheet } from '../sheet.ts';

/** A name, and at the line's end in one or two words how it stands. */
export interface PillHeading {
  name: string;
  pill: string;
  look: PillLook;
}

/** From settled to open: full, tinted, a mere outline; the dark outline warns. */
export type PillLook = 'full' | 'tinted' | 'outlined' | 'warning';

/** Adds a heading whose standing is a pill beside it. */
export function addPillHeading(
  sheet: Sheet,
  section: Tag,
  { name, pill, look }: PillHeading,
  spaceAbovePt: number,
): void {
  const { measure } = sheet;
  const style = { ...TYPE.label, color: look === 'full' ? COLOR.white : COLOR.ink };
  const pillWidthPt = measure(pill, style) + 2 * PILL_PADDING_PT;
  const pillX = PAGE.leftPt + PAGE.contentWidthPt - pillWidthPt;
  const widthPt = PAGE.contentWidthPt - pillWidthPt - 16;
  const heading = layText(name, TYPE.subheading, { xPt: PAGE.leftPt, topPt: 0, widthPt }, measure);
  const pillPlace = { xPt: pillX + PILL_PADDING_PT, topPt: 1.75, widthPt: pillWidthPt };
  const headingTag = tagUnder(section, 'H3');
  addRow(sheet, {
    heightPt: heading.heightPt,
    spaceAbovePt,
    keepWithNext: true,
    cells: [
      { tag: headingTag, inks: heading.inks },
      { tag: tagUnder(section, 'P'), inks: [layLine(pill, style, pillPlace, measure)] },
    ],
    decoration: pillInks(look, pillX, pillWidthPt),
  });
}

const PILL_PADDING_PT = 8;

function pillInks(look: PillLook, xPt: number, widthPt: number): Ink[] {
  const pill = (inset: number, fill: string): Ink => ({
    kind: 'rectangle',
    xPt: xPt + inset,
    yPt: inset,
    widthPt: widthPt - 2 * inset,
    heightPt: 15.5 - 2 * inset,
    radiusPt: 7.75 - inset,
    fill,
  });
  const inks: Record<PillLook, Ink[]> = {
    full: [pill(0, COLOR.accent)],
    tinted: [pill(0, COLOR.accent), pill(0.9, COLOR.tint)],
    outlined: [pill(0, COLOR.soft), pill(0.9, COLOR.white)],
    warning: [pill(0, COLOR.ink), pill(0.9, COLOR.white)],
  };
  return inks[look];
}
