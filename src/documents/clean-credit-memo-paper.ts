import { cleanBilledDocument } from './clean-invoice-paper.ts';
import { type CleanText, cleanCompany, cleanSentences, LENGTH } from './clean-parts.ts';
import type { CreditMemoPaper } from './credit-memo-paper.ts';

/** The same paper with every text fit to print. */
export function cleanCreditMemoPaper(paper: CreditMemoPaper, clean: CleanText): CreditMemoPaper {
  return {
    ...paper,
    company: cleanCompany(paper.company, clean),
    memoNumber: clean(paper.memoNumber, LENGTH.number),
    invoiceNumber: clean(paper.invoiceNumber, LENGTH.number),
    ticketNumber: clean(paper.ticketNumber, LENGTH.number),
    issuedText: clean(paper.issuedText, LENGTH.name),
    payer: { name: clean(paper.payer.name, LENGTH.name) },
    reason: clean(paper.reason, LENGTH.sentence),
    documents: paper.documents.map((document) => cleanBilledDocument(document, clean)),
    cautions: paper.cautions && cleanSentences(paper.cautions, clean),
    contentHash: paper.contentHash && clean(paper.contentHash, LENGTH.hash),
  };
}
