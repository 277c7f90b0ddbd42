import { changedQuote } from '../changed-quote.ts';
import { formatCents } from '../format-cents.ts';
import { layLine, layText } from '../lay-text.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { COLOR, PAGE, TYPE } from '../paper-style.ts';
import type { PaperLegalText, PaperPrices, QuotePaper } from '../quote-paper.ts';
import {
  addBullets,
  addHeading,
  addParagraph,
  addRow,
  hairline,
  keepTogether,
  type Sheet,
} from '../sheet.ts';
import { addTable } from './table.ts';

/** What saying no costs, in full. */
export function addDecline(sheet: Sheet, root: Tag, { decline, changes }: QuotePaper): void {
  const { words } = sheet;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, words.declineHeading);
  const total = formatCents(decline.totalCents);
  const several = decline.amounts.length > 1;
  const means =
    changes === undefined ? words.declineText(total) : words.nothingAdded(changedQuote(changes));
  addParagraph(sheet, section, `${means} ${words.keepPaper}`, TYPE.strong, {
    keepWithNext: several,
  });
  if (!several) return;
  const parts = decline.amounts.map(({ label, amountCents }) => ({
    label,
    amount: formatCents(amountCents),
  }));
  addParagraph(sheet, section, words.sum(parts, total), TYPE.body, { spaceAbovePt: 2 });
}

/** The usual cautions, as a list. */
export function addCautions(sheet: Sheet, root: Tag, cautions: readonly string[]): void {
  if (cautions.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.cautions);
  addBullets(sheet, section, cautions, TYPE.body);
}

/** Legal texts as they were given, each under its title. */
export function addLegalTexts(sheet: Sheet, root: Tag, texts: readonly PaperLegalText[]): void {
  if (texts.length === 0) return;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, sheet.words.legal);
  texts.forEach(({ title, text }, index) => {
    const firstRow = sheet.rows.length;
    const part = tagUnder(section, 'Sect');
    addParagraph(sheet, part, title, TYPE.strong, {
      type: 'H3',
      spaceAbovePt: index === 0 ? 0 : 9,
      keepWithNext: true,
    });
    for (const paragraph of text.split('\n')) {
      addParagraph(sheet, part, paragraph, TYPE.small, { spaceAbovePt: 2 });
    }
    keepTogether(sheet, firstRow, SHORT_TEXT_HEIGHT_MAX_PT);
  });
}

/**
 * The boxes to check and the lines to sign: one block that is never parted.
 * @param totalsAgain where the block is torn from its prices: what each option comes to
 */
export function addAnswer(
  sheet: Sheet,
  root: Tag,
  paper: QuotePaper,
  { totalsAgain }: { totalsAgain: boolean },
): void {
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
  const no =
    paper.changes === undefined
      ? words.declineLine(formatCents(paper.decline.totalCents))
      : words.nothingAddedLine;
  addBox(sheet, list, no);
  addSigningLines(sheet, section);
  const hash = `${words.contentHash}: ${paper.contentHash}`;
  addParagraph(sheet, section, hash, TYPE.tick, { spaceAbovePt: 14 });
}

function addTotalsAgain(sheet: Sheet, section: Tag, paper: QuotePaper): void {
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

const SHORT_TEXT_HEIGHT_MAX_PT = 120;
const BOX_INDENT_PT = 22;
const BOX_STYLE = { ...TYPE.body, sizePt: 23, lineHeightPt: 17 };
const ANSWER_STYLE = { ...TYPE.strong, sizePt: 11, lineHeightPt: 17 };

function addBox(sheet: Sheet, list: Tag, text: string): void {
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
function addSigningLines(sheet: Sheet, section: Tag): void {
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
