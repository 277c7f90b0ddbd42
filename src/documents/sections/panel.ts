import { layLine, layText } from '../lay-text.ts';
import { type Ink, type Tag, type TextStyle, tagUnder } from '../page-plan.ts';
import { PAGE, TYPE } from '../paper-style.ts';
import type { Cell } from '../place-rows.ts';
import { addRow, hairline, type Sheet, tint } from '../sheet.ts';

/** What a person wants to know first. */
export interface Panel {
  lead: string;
  /** What goes with the sentence, smaller. */
  note?: string | undefined;
  /** What the amounts are, above them. */
  caption?: string | undefined;
  rows: readonly PanelRow[];
}

export interface PanelRow {
  label: string;
  amount: string;
  /** What weighs less is set in grey. */
  weight: 'strong' | 'quiet';
}

/** One quiet panel below the title: a sentence, and what it comes to. */
export function addPanel(sheet: Sheet, root: Tag, { lead, note = '', caption, rows }: Panel): void {
  const { measure } = sheet;
  const section = tagUnder(root, 'Sect');
  const cells: Cell[] = [];
  const rules: Ink[] = [];
  const left = { xPt: PAGE.leftPt, widthPt: PAGE.contentWidthPt };
  let topPt = PADDING_PT;
  const sentence = layText(lead, TYPE.lead, { ...left, topPt }, measure);
  if (lead !== '') cells.push({ tag: tagUnder(section, 'P'), inks: sentence.inks });
  topPt += sentence.heightPt;
  const below = layText(note, TYPE.body, { ...left, topPt: topPt + 3 }, measure);
  if (note !== '') cells.push({ tag: tagUnder(section, 'P'), inks: below.inks });
  topPt += below.heightPt + 7;
  if (caption !== undefined) {
    const place = { ...left, topPt, align: 'right' } as const;
    const ink = layLine(`${caption} `, TYPE.label, place, measure);
    cells.push({ tag: tagUnder(section, 'P'), inks: [ink] });
    topPt += TYPE.label.lineHeightPt + 3;
  }
  for (const { label, amount, weight } of rows) {
    const style = STYLE[weight];
    const widthPt = PAGE.contentWidthPt - measure(amount, style) - 24;
    const place = { ...left, topPt: topPt + ROW_PADDING_PT };
    const text = layText(label, style, { ...place, widthPt }, measure);
    const paragraph = tagUnder(section, 'P');
    const figure = layLine(amount, style, { ...place, align: 'right' }, measure);
    rules.push(hairline(topPt));
    cells.push({ tag: paragraph, inks: withSpaceAfter(text.inks) });
    cells.push({ tag: paragraph, inks: [figure] });
    topPt += text.heightPt + 2 * ROW_PADDING_PT;
  }
  const heightPt = topPt + PADDING_PT - ROW_PADDING_PT;
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 14,
    cells,
    decoration: [tint(0, heightPt, 6), ...rules],
  });
}

const PADDING_PT = 13;
const ROW_PADDING_PT = 6;

const STYLE: Record<PanelRow['weight'], TextStyle> = {
  strong: { ...TYPE.price, sizePt: 12.5, lineHeightPt: 17 },
  quiet: { ...TYPE.body, sizePt: 12.5, lineHeightPt: 17, color: TYPE.small.color },
};

/** Keeps the label and the amount that follows it apart when the text is taken from the page. */
function withSpaceAfter(inks: readonly Ink[]): Ink[] {
  return inks.map((ink, index) =>
    ink.kind === 'text' && index === inks.length - 1 ? { ...ink, text: `${ink.text} ` } : ink,
  );
}
