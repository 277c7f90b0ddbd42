import {
  type CleanText,
  cleanAmount,
  cleanCompany,
  cleanSentences,
  cleanSite,
  LENGTH,
} from './clean-parts.ts';
import type { InvoicePaper, InvoicePaperDocument, InvoicePaperPrices } from './invoice-paper.ts';

/** The same paper with every text fit to print. */
export function cleanInvoicePaper(paper: InvoicePaper, clean: CleanText): InvoicePaper {
  return {
    ...paper,
    company: cleanCompany(paper.company, clean),
    invoiceNumber: clean(paper.invoiceNumber, LENGTH.number),
    ticketNumber: clean(paper.ticketNumber, LENGTH.number),
    issuedText: clean(paper.issuedText, LENGTH.name),
    dueText: clean(paper.dueText, LENGTH.name),
    payer: { name: clean(paper.payer.name, LENGTH.name) },
    site: cleanSite(paper.site, clean),
    visitDays: paper.visitDays.map((day) => clean(day, LENGTH.name)),
    documents: paper.documents.map((document) => cleanBilledDocument(document, clean)),
    cautions: paper.cautions && cleanSentences(paper.cautions, clean),
    contentHash: paper.contentHash && clean(paper.contentHash, LENGTH.hash),
  };
}

export function cleanBilledDocument(
  document: InvoicePaperDocument,
  clean: CleanText,
): InvoicePaperDocument {
  return {
    ...document,
    title: clean(document.title, LENGTH.title),
    prices: cleanBilledPrices(document.prices, clean),
    taxes: document.taxes.map((tax) => cleanAmount(tax, clean)),
  };
}

function cleanBilledPrices(prices: InvoicePaperPrices, clean: CleanText): InvoicePaperPrices {
  const description = (line: { description: string }) => clean(line.description, LENGTH.line);
  switch (prices.kind) {
    case 'separated':
      return {
        kind: 'separated',
        lines: prices.lines.map((line) => ({ ...line, description: description(line) })),
      };
    case 'lump_sum':
      return {
        ...prices,
        lines: prices.lines.map((line) => ({ description: description(line) })),
      };
  }
}
