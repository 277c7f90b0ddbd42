import type { Credit } from '../billing/index.ts';
import { addCents, cents } from '../pricing/index.ts';
import { type CreditedDocument, creditDocument } from './credit-documents.ts';
import { type CreditableDocument, creditableDocuments } from './creditable-documents.ts';
import { type IssuedInvoice, lockIssuedUnseen } from './lock-invoice.ts';
import { type CreditContext, type Memo, writeCreditMemo } from './write-credit-memo.ts';

/** An issued invoice, locked, with what of it can be credited. */
export interface LockedBill {
  readonly invoice: IssuedInvoice;
  readonly documents: readonly CreditableDocument[];
}

/** Which credits a document is given: at most what is left of each line. */
export type CreditRule = (document: CreditableDocument) => readonly Credit[];

/**
 * Gives back what a rule says, document by document of issued invoices. All of them are locked, in
 * the order given, before the first memo takes its number.
 * @param ruleFor looks at all of them before the first credit is given
 * @returns the ids of the memos, one for each invoice that gives something back
 */
export async function creditByRule(
  act: CreditContext,
  invoiceIds: readonly string[],
  memo: Pick<Memo, 'kind' | 'reason'>,
  ruleFor: (bills: readonly LockedBill[]) => CreditRule,
): Promise<string[]> {
  const bills: LockedBill[] = [];
  for (const id of invoiceIds) {
    const invoice = await lockIssuedUnseen(act, id);
    const documents = await creditableDocuments(act.tx, invoice.stored);
    bills.push({ invoice, documents: [...documents.values()] });
  }
  const creditsOf = ruleFor(bills);
  const memoIds: string[] = [];
  for (const { invoice, documents } of bills) {
    const credited = documents.flatMap((document) => creditedOn(document, creditsOf(document)));
    if (credited.length === 0) continue;
    const taxCents = addCents(credited.map((document) => cents(document.taxCents)));
    const totalCents = addCents(credited.map((document) => cents(document.totalCents)));
    memoIds.push(await writeCreditMemo(act, invoice, { ...memo, credited, taxCents, totalCents }));
  }
  return memoIds;
}

function creditedOn(document: CreditableDocument, credits: readonly Credit[]): CreditedDocument[] {
  if (credits.length === 0) return [];
  const answer = creditDocument(document, credits);
  if (answer.outcome === 'credited') return [answer.document];
  throw new Error(`what is left of a line cannot be credited: ${JSON.stringify(answer.refusals)}`);
}
