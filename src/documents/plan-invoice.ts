import { finishPlan } from './finish-plan.ts';
import { formatCents } from './format-cents.ts';
import type { InvoicePaper } from './invoice-paper.ts';
import { type InvoiceWords, invoiceWords } from './invoice-words.ts';
import { type PagePlan, type Tag, tag } from './page-plan.ts';
import type { PlanOptions } from './plan-quote.ts';
import { addBilled } from './sections/billed.ts';
import { addCautionsInBrief } from './sections/cautions.ts';
import { addFingerprint } from './sections/fingerprint.ts';
import { addLetterhead, addressLine } from './sections/letterhead.ts';
import { addPanel } from './sections/panel.ts';
import { addPeople } from './sections/people.ts';
import { addTold } from './sections/told.ts';
import type { Sheet } from './sheet.ts';

/** Lays out an invoice: what is to be paid and until when, what for, and how. */
export function planInvoice(paper: InvoicePaper, { measure, pageUrl }: PlanOptions): PagePlan {
  const words = invoiceWords[paper.language];
  const { company, invoiceNumber, site, taxCents, totalCents } = paper;
  const root = tag('Document');
  const sheet: Sheet<InvoiceWords> = { rows: [], words, measure };
  const numbered = words.invoice(invoiceNumber);
  addLetterhead(sheet, root, {
    company,
    title: words.title,
    facts: [numbered, words.issued(paper.issuedText), words.ticket(paper.ticketNumber)],
  });
  addPanel(sheet, root, {
    lead: words.lead(site.address.street, paper.visitDays),
    rows: [
      {
        label: totalCents === 0 ? words.nothingToPay : words.payUntil(paper.dueText),
        amount: formatCents(totalCents),
        weight: 'strong',
      },
    ],
  });
  addPeople(sheet, root, { label: words.billTo, person: paper.payer, site });
  const { documents } = paper;
  const heading = words.billed;
  addBilled(sheet, root, { heading, total: words.toPay, documents, taxCents, totalCents });
  addHowToPay(sheet, root, paper);
  addCautionsInBrief(sheet, root, [...(paper.cautions ?? []), sheet.words.localCodes]);
  addFingerprint(sheet, root, { contentHash: paper.contentHash, pageUrl });
  return finishPlan(sheet, root, {
    title: words.fileTitle(invoiceNumber, company.name),
    subject: words.title,
    footer: `${numbered}  ·  ${company.name}`,
    createdAt: paper.issuedAt,
  });
}

function addHowToPay(sheet: Sheet<InvoiceWords>, root: Tag, paper: InvoicePaper): void {
  const { words } = sheet;
  const { company, invoiceNumber, totalCents } = paper;
  const address = `${company.name}, ${addressLine(company.address)}`;
  const pay = words.payText(invoiceNumber, company.phone, address);
  const notAsAgreed = words.notAsAgreed(company.phone);
  addTold(sheet, root, words.howToPay, totalCents === 0 ? [notAsAgreed] : [pay, notAsAgreed]);
}
