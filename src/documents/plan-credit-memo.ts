import type { CreditMemoPaper } from './credit-memo-paper.ts';
import { type CreditMemoWords, creditMemoWords } from './credit-memo-words.ts';
import { finishPlan } from './finish-plan.ts';
import { formatCents } from './format-cents.ts';
import { type PagePlan, tag } from './page-plan.ts';
import type { PlanOptions } from './plan-quote.ts';
import { addBilled } from './sections/billed.ts';
import { addCautionsInBrief } from './sections/cautions.ts';
import { addFingerprint } from './sections/fingerprint.ts';
import { addLetterhead } from './sections/letterhead.ts';
import { addPanel } from './sections/panel.ts';
import { addPeople } from './sections/people.ts';
import { addTold } from './sections/told.ts';
import type { Sheet } from './sheet.ts';

/** Lays out a credit memo: how much is taken off which invoice, why, and what it means. */
export function planCreditMemo(
  paper: CreditMemoPaper,
  { measure, pageUrl }: PlanOptions,
): PagePlan {
  const words = creditMemoWords[paper.language];
  const { company, memoNumber, invoiceNumber, documents, taxCents, totalCents } = paper;
  const root = tag('Document');
  const sheet: Sheet<CreditMemoWords> = { rows: [], words, measure };
  const numbered = words.numbered(memoNumber);
  const total = words.takenOff[takenOffOf(paper)];
  addLetterhead(sheet, root, {
    company,
    title: words.title,
    facts: [
      numbered,
      words.invoice(invoiceNumber),
      words.issued(paper.issuedText),
      words.ticket(paper.ticketNumber),
    ],
  });
  addPanel(sheet, root, {
    lead: words.lead(invoiceNumber),
    rows: [{ label: total, amount: formatCents(totalCents), weight: 'strong' }],
  });
  addPeople(sheet, root, { label: words.billTo, person: paper.payer });
  addTold(sheet, root, words.why, [paper.reason]);
  addBilled(sheet, root, { heading: words.what, total, documents, taxCents, totalCents });
  addTold(sheet, root, words.means, [words.meansText(invoiceNumber, company.phone)]);
  addCautionsInBrief(sheet, root, [...(paper.cautions ?? []), sheet.words.localCodes]);
  addFingerprint(sheet, root, { contentHash: paper.contentHash, pageUrl });
  return finishPlan(sheet, root, {
    title: words.fileTitle(memoNumber, invoiceNumber, company.name),
    subject: words.title,
    footer: `${numbered}  ·  ${company.name}`,
    createdAt: paper.issuedAt,
  });
}

function takenOffOf({ taxCents, totalCents }: CreditMemoPaper): keyof CreditMemoWords['takenOff'] {
  if (taxCents === 0) return 'untaxed';
  return taxCents === totalCents ? 'taxAlone' : 'withTax';
}
