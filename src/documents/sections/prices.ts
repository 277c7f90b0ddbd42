import { changedQuote } from '../changed-quote.ts';
import { formatCents } from '../format-cents.ts';
import type { Tag } from '../page-plan.ts';
import type {
  PaperAmount,
  PaperChanged,
  PaperLine,
  PaperLineGroup,
  PaperOption,
  PaperPricedLine,
} from '../paper-parts.ts';
import { TYPE } from '../paper-style.ts';
import { addParagraph, type Sheet } from '../sheet.ts';
import { addTable, type TableBody, type TableLine, type TableTotal } from './table.ts';

/**
 * The lines of what is offered or agreed, as separate prices or as one, down to the total.
 * @param changes of a change order: what it adds to, so that both are told together
 */
export function addPrices(
  sheet: Sheet,
  part: Tag,
  option: PaperOption,
  changes: PaperChanged | undefined,
): void {
  const { words } = sheet;
  const after = togetherTotals(sheet, option, changes);
  const { prices, taxes, totalCents } = option;
  switch (prices.kind) {
    case 'separated':
      addTable(sheet, part, {
        columns: [words.column.line, words.column.calculation, words.column.amount],
        body: prices.groups.map((group) => tableBody(group, pricedCells)),
        totals: [
          ...beforeTotal(words.subtotal, prices.subtotalCents, taxes),
          { label: words.total, amount: formatCents(totalCents), weight: 'grand' },
          ...after,
        ],
      });
      return;
    case 'lump_sum':
      addParagraph(sheet, part, words.lumpSumNote, TYPE.small, {
        spaceAbovePt: 2,
        keepWithNext: true,
      });
      addTable(sheet, part, {
        columns: [words.column.line, words.column.quantity],
        body: prices.groups.map((group) => tableBody(group, unpricedCells)),
        totals: [
          ...beforeTotal(words.lumpSumPrice, prices.priceCents, taxes),
          { label: words.total, amount: formatCents(totalCents), weight: 'grand' },
          ...after,
        ],
      });
  }
}

/** What a change order comes to with what it changes. */
function togetherTotals(
  { words }: Sheet,
  { totalCents }: PaperOption,
  changes: PaperChanged | undefined,
): TableTotal[] {
  if (changes === undefined) return [];
  const amount = formatCents(changes.agreedCents + totalCents);
  return [{ label: words.together(changedQuote(changes)), amount, weight: 'plain' }];
}

/** Without tax the amount before it is the total, and is not printed twice. */
function beforeTotal(
  label: string,
  beforeTaxCents: number,
  taxes: readonly PaperAmount[],
): TableTotal[] {
  if (taxes.length === 0) return [];
  return [{ label, amount: formatCents(beforeTaxCents), weight: 'plain' }, ...taxes.map(taxTotal)];
}

function taxTotal({ label, amountCents }: PaperAmount): TableTotal {
  return { label, amount: formatCents(amountCents), weight: 'plain' };
}

function tableBody<Line extends PaperLine>(
  { heading, lines }: PaperLineGroup<Line>,
  cells: (line: Line) => string[],
): TableBody {
  return { heading, lines: lines.map((line) => tableLine(line, cells(line))) };
}

function tableLine({ description, detail }: PaperLine, cells: string[]): TableLine {
  return { description, detail: detail ?? '', cells };
}

function pricedCells(line: PaperPricedLine): string[] {
  return [calculation(line), formatCents(line.amountCents)];
}

function unpricedCells(line: PaperLine): string[] {
  return [line.quantityText ?? ''];
}

/** '0.75 h × $151.00': what anyone can check with a pencil. */
function calculation({ quantityText, unitPriceCents }: PaperPricedLine): string {
  if (unitPriceCents === undefined) return quantityText ?? '';
  const unitPrice = formatCents(unitPriceCents);
  return quantityText === undefined ? unitPrice : `${quantityText} × ${unitPrice}`;
}
