import { changedQuote } from '../changed-quote.ts';
import { formatCents } from '../format-cents.ts';
import { layLine, layText } from '../lay-text.ts';
import { type Ink, type Tag, type TextStyle, tagUnder } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { Cell } from '../place-rows.ts';
import type { QuotePaper } from '../quote-paper.ts';
import type { QuoteWords } from '../quote-words.ts';
import { addRow, hairline, type Sheet, tint } from '../sheet.ts';

/**
 * What a person wants to know first, in one quiet panel: what is wrong, what each answer costs with
 * tax, and that no is an answer too.
 */
export function addGlance(sheet: Sheet<QuoteWords>, root: Tag, paper: QuotePaper): void {
  const { measure } = sheet;
  const section = tagUnder(root, 'Sect');
  const cells: Cell[] = [];
  const rules: Ink[] = [];
  const left = { xPt: PAGE.leftPt, widthPt: PAGE.contentWidthPt };
  let topPt = PADDING_PT;
  const summary = layText(paper.summary, TYPE.lead, { ...left, topPt }, measure);
  cells.push({ tag: tagUnder(section, 'P'), inks: summary.inks });
  topPt += summary.heightPt + 7;
  const caption = layLine(
    `${sheet.words.withTax} `,
    TYPE.label,
    { ...left, topPt, align: 'right' },
    measure,
  );
  cells.push({ tag: tagUnder(section, 'P'), inks: [caption] });
  topPt += TYPE.label.lineHeightPt + 3;
  for (const answer of answers(sheet, paper)) {
    const amountWidthPt = measure(answer.amount, TYPE.price) + 24;
    const widthPt = PAGE.contentWidthPt - amountWidthPt;
    const label = layText(
      answer.label,
      answer.style,
      { ...left, widthPt, topPt: topPt + ANSWER_PADDING_PT },
      measure,
    );
    const paragraph = tagUnder(section, 'P');
    const amountPlace = { ...left, topPt: topPt + ANSWER_PADDING_PT, align: 'right' } as const;
    const amount = layLine(answer.amount, answer.style, amountPlace, measure);
    rules.push(hairline(topPt));
    cells.push({ tag: paragraph, inks: withSpaceAfter(label.inks) });
    cells.push({ tag: paragraph, inks: [amount] });
    topPt += label.heightPt + 2 * ANSWER_PADDING_PT;
  }
  const heightPt = topPt + PADDING_PT - ANSWER_PADDING_PT;
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 14,
    cells,
    decoration: [tint(0, heightPt, 6), ...rules],
  });
}

const PADDING_PT = 13;
const ANSWER_PADDING_PT = 6;
const QUIET: TextStyle = { ...TYPE.body, sizePt: 12.5, lineHeightPt: 17, color: COLOR.soft };

interface Answer {
  label: string;
  amount: string;
  style: TextStyle;
}

function answers({ words }: Sheet<QuoteWords>, paper: QuotePaper): Answer[] {
  const several = paper.options.length > 1;
  const { changes } = paper;
  const yes = paper.options.flatMap(({ letter, title, totalCents }) => [
    {
      label: several ? words.option(letter, title) : title,
      amount: formatCents(totalCents),
      style: { ...TYPE.price, sizePt: 12.5, lineHeightPt: 17 },
    },
    ...(changes === undefined
      ? []
      : [
          {
            label: words.together(changedQuote(changes)),
            amount: formatCents(changes.agreedCents + totalCents),
            style: QUIET,
          },
        ]),
  ]);
  const no = {
    label: changes === undefined ? words.declineGlance : words.nothingAddedGlance,
    amount: formatCents(paper.decline.totalCents),
    style: QUIET,
  };
  return [...yes, no];
}

/** Keeps the label and the amount that follows it apart when the text is taken from the page. */
function withSpaceAfter(inks: readonly Ink[]): Ink[] {
  return inks.map((ink, index) =>
    ink.kind === 'text' && index === inks.length - 1 ? { ...ink, text: `${ink.text} ` } : ink,
  );
}
