import type { BilledWords } from '../billed-words.ts';
import { formatCents } from '../format-cents.ts';
import type { InvoicePaperDocument } from '../invoice-paper.ts';
import { type Tag, tagUnder } from '../page-plan.ts';
import { TYPE } from '../paper-style.ts';
import { addHeading, addParagraph, keepTogether, type Sheet } from '../sheet.ts';
import { addTable, type TableTotal } from './table.ts';

/** The documents of an invoice or a credit memo, and what they come to. */
export interface BilledSection {
  heading: string;
  /** What the sum of all is called. */
  total: string;
  documents: readonly InvoicePaperDocument[];
  taxCents: number;
  totalCents: number;
}

/** Each document with its lines; where there are several, all of them once more with their sum. */
export function addBilled(sheet: Sheet<BilledWords>, root: Tag, billed: BilledSection): void {
  const { words } = sheet;
  const { heading, total, documents, taxCents, totalCents } = billed;
  const section = tagUnder(root, 'Sect');
  addHeading(sheet, section, heading);
  const several = documents.length > 1;
  const grand: TableTotal = { label: total, amount: formatCents(totalCents), weight: 'grand' };
  documents.forEach((document, index) => {
    const own: TableTotal = {
      label: words.partTotal,
      amount: formatCents(document.totalCents),
      weight: 'plain',
    };
    addDocument(sheet, section, document, several ? own : grand, index === 0 ? 0 : 18);
  });
  if (!several) return;
  addTogether(sheet, tagUnder(root, 'Sect'), documents, [
    grand,
    ...(taxCents === 0
      ? []
      : [{ label: words.taxIn, amount: formatCents(taxCents), weight: 'plain' } as const]),
  ]);
}

/** A document up to this height stands whole on one page. */
const DOCUMENT_HEIGHT_MAX_PT = 320;

function addDocument(
  sheet: Sheet<BilledWords>,
  section: Tag,
  document: InvoicePaperDocument,
  total: TableTotal,
  spaceAbovePt: number,
): void {
  const { words } = sheet;
  const { title, prices } = document;
  const { lines, taxes } = linesAndTaxes(document);
  const firstRow = sheet.rows.length;
  const part = tagUnder(section, 'Sect');
  addParagraph(sheet, part, title, TYPE.subheading, {
    type: 'H3',
    spaceAbovePt,
    keepWithNext: true,
  });
  const isTax = isTaxAlone(document);
  const isLumpSum = prices.kind === 'lump_sum' && !isTax;
  if (isLumpSum) {
    addParagraph(sheet, part, words.lumpSumNote, TYPE.small, {
      spaceAbovePt: 2,
      keepWithNext: true,
    });
  }
  addTable(sheet, part, {
    columns: [isTax ? words.tax : words.column.line, isLumpSum ? '' : words.amounts],
    body: [{ heading: '', lines }],
    totals: [...beforeTax(words, document, taxes), ...taxes.map(taxTotal), total],
  });
  keepTogether(sheet, firstRow, DOCUMENT_HEIGHT_MAX_PT);
}

/** Of a tax that is put right by itself, which is no sum of anything: it is the line then. */
function linesAndTaxes(document: InvoicePaperDocument) {
  if (!isTaxAlone(document)) return { lines: linesOf(document), taxes: document.taxes };
  const lines = document.taxes.map(({ label, amountCents }) => ({
    ...{ description: label, detail: '' },
    cells: [formatCents(amountCents)],
  }));
  return { lines, taxes: [] };
}

function isTaxAlone({ prices, taxes }: InvoicePaperDocument): boolean {
  return prices.lines.length === 0 && taxes.length > 0;
}

function linesOf({ prices }: InvoicePaperDocument) {
  return prices.kind === 'separated'
    ? prices.lines.map(({ description, amountCents }) => ({
        description,
        detail: '',
        cells: [formatCents(amountCents)],
      }))
    : prices.lines.map(({ description }) => ({ description, detail: '', cells: [''] }));
}

/** Told only where tax comes on top of it. */
function beforeTax(
  words: BilledWords,
  { prices, totalCents }: InvoicePaperDocument,
  taxes: InvoicePaperDocument['taxes'],
): TableTotal[] {
  if (taxes.length === 0) return [];
  const taxCents = taxes.reduce((sum, { amountCents }) => sum + amountCents, 0);
  const label = prices.kind === 'separated' ? words.subtotal : words.onePrice;
  return [{ label, amount: formatCents(totalCents - taxCents), weight: 'plain' }];
}

function taxTotal({ label, amountCents }: { label: string; amountCents: number }): TableTotal {
  return { label, amount: formatCents(amountCents), weight: 'plain' };
}

function addTogether(
  sheet: Sheet<BilledWords>,
  section: Tag,
  documents: readonly InvoicePaperDocument[],
  totals: readonly TableTotal[],
): void {
  const { words } = sheet;
  addHeading(sheet, section, words.allTogether);
  addTable(sheet, section, {
    columns: [words.part, words.amountsWithTax],
    body: [
      {
        heading: '',
        lines: documents.map(({ title, totalCents }) => ({
          description: title,
          detail: '',
          cells: [formatCents(totalCents)],
        })),
      },
    ],
    totals,
  });
}
