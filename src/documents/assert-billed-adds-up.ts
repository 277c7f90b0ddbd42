import { assertDated } from './assert-dated.ts';
import { assertSum } from './assert-sum.ts';
import type { InvoicePaperDocument } from './invoice-paper.ts';
import type { PaperAmount } from './paper-parts.ts';

/** What an invoice and a credit memo have in common: documents, their tax and their total. */
export interface Billed {
  issuedAt: string;
  documents: readonly InvoicePaperDocument[];
  taxCents: number;
  totalCents: number;
}

/**
 * Refuses an invoice or a credit memo whose lines do not come to its totals, each document by itself
 * and all of them together.
 * @throws PaperRefused with one sentence that names the place and both amounts
 */
export function assertBilledAddsUp({ issuedAt, documents, taxCents, totalCents }: Billed): void {
  assertDated(issuedAt);
  documents.forEach(assertDocumentAddsUp);
  assertSum(
    'All documents',
    documents.map(({ title, totalCents }) => ({ label: title, amountCents: totalCents })),
    totalCents,
  );
  assertSum(
    'The tax of all documents',
    documents.flatMap(({ taxes }) => taxes),
    taxCents,
  );
}

function assertDocumentAddsUp(document: InvoicePaperDocument): void {
  const { position, taxes, totalCents } = document;
  assertSum(`Document ${position}`, [...beforeTax(document), ...taxes], totalCents);
}

function beforeTax({ prices }: InvoicePaperDocument): PaperAmount[] {
  switch (prices.kind) {
    case 'separated':
      return prices.lines.map(({ description, amountCents }) => ({
        label: description,
        amountCents,
      }));
    case 'lump_sum':
      return [{ label: 'before tax', amountCents: prices.priceCents }];
  }
}
