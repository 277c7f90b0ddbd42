import { formatCents } from '../format-cents.ts';
import { layLine, layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import type { PaperPrices } from '../paper-parts.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { QuotePaper } from '../quote-paper.ts';
import type { QuoteWords } from '../quote-words.ts';
import { addHeading, addParagraph, addRow, hairline, type Sheet } from '../sheet.ts';
import { addTable } from './table.ts';

/**
 * The boxes to check and the lines to sign: one block that is never parted.
 * @param totalsAgain where the block is torn from its prices: what each option comes to
 * @returns the section, to see which page it came to
 */
export function addAnswer(
  sheet: Sheet<QuoteWords>,
  root: Tag,
  paper: QuotePaper,
  { totalsAgain }: { totalsAgain: boolean },
): Tag {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, words.answer);
  const explanation = words.answerText(paper.quoteNumber, paper.revision);
  addParagraph(sheet, section, explanation, TYPE.body, { keepWithNext: true });
  if (totalsAgain) addTotalsAgain(sheet, section, paper);
  const list = tagUnder(section, 'L', { bullet: 'Square' });
  for (const option of paper.options) {
    const letter = paper.options.length > 1 ? option.letter : undefined;
    addBox(sheet, list, words.acceptLine(letter, option.title, formatCents(option.totalCents)));
  }
  addBox(sheet, list, noLine(paper, words));
  addSigningLines(sheet, section);
  return section;
}

function noLine({ changes, decline }: QuotePaper, words: QuoteWords): string {
  if (changes !== undefined) return words.nothingAddedLine;
  if (decline.totalCents === 0) return words.declineFreeLine;
  return words.declineLine(formatCents(decline.totalCents));
}

function addTotalsAgain(sheet: Sheet<QuoteWords>, section: Tag, paper: QuotePaper): void {
  const { words } = sheet;
  const { option, parts, total } = words.totalsAgain;
  const firstRow = sheet.rows.length;
  const several = paper.options.length > 1;
  addTable(sheet, section, {
    columns: [option, parts, total],
    body: [
      {
        heading: '',
        lines: paper.options.map(({ letter, title, prices, taxes, totalCents }) => ({
          description: several ? words.option(letter, title) : title,
          detail: '',
          cells: [
            [beforeTaxCents(prices), ...taxes.map(({ amountCents }) => amountCents)]
              .map(formatCents)
              .join(' + '),
            formatCents(totalCents),
          ],
        })),
      },
    ],
    totals: [],
  });
  for (const row of sheet.rows.slice(firstRow)) row.keepWithNext = true;
}

function beforeTaxCents(prices: PaperPrices): number {
  return prices.kind === 'separated' ? prices.subtotalCents : prices.priceCents;
}

const BOX_INDENT_PT = 22;
const BOX_STYLE = { ...TYPE.body, sizePt: 23, lineHeightPt: 17 };
const ANSWER_STYLE = { ...TYPE.strong, sizePt: 11, lineHeightPt: 17 };

function addBox(sheet: Sheet<QuoteWords>, list: Tag, text: string): void {
  const item = tagUnder(list, 'LI');
  const place = { xPt: PAGE.leftPt, topPt: 0, widthPt: PAGE.contentWidthPt };
  const box = layLine('□ ', BOX_STYLE, place, sheet.measure);
  const boxCell = { tag: tagUnder(item, 'Lbl'), inks: [box] };
  const body = tagUnder(item, 'LBody');
  const textPlace = { xPt: PAGE.leftPt + BOX_INDENT_PT, widthPt: place.widthPt - BOX_INDENT_PT };
  const { inks, heightPt } = layText(text, ANSWER_STYLE, { ...textPlace, topPt: 0 }, sheet.measure);
  addRow(sheet, {
    heightPt,
    spaceAbovePt: 7,
    keepWithNext: true,
    cells: [boxCell, { tag: body, inks }],
  });
}

/** Three rules to write on, each with its label beneath. */
function addSigningLines(sheet: Sheet<QuoteWords>, section: Tag): void {
  const { words } = sheet;
  const fields = [
    { label: words.name, xPt: PAGE.leftPt, widthPt: 190 },
    { label: words.signature, xPt: PAGE.leftPt + 206, widthPt: 190 },
    { label: words.date, xPt: PAGE.leftPt + 412, widthPt: 80 },
  ];
  const cells = fields.map(({ label, xPt, widthPt }) => ({
    tag: tagUnder(section, 'P'),
    inks: [layLine(label, TYPE.small, { xPt, topPt: 35, widthPt }, sheet.measure)],
  }));
  const rules = fields.map(({ xPt, widthPt }) => ({
    ...hairline(0, COLOR.ink),
    fromPt: [xPt, 33] as const,
    toPt: [xPt + widthPt, 33] as const,
  }));
  addRow(sheet, { heightPt: 48, keepWithNext: true, cells, decoration: rules });
}
