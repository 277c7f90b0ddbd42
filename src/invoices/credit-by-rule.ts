import type { Credit } from '../billing/index.ts';
import { type CreditedDocument, creditDocument } from './credit-documents.ts';
import { type CreditableDocument, creditableDocuments } from './creditable-documents.ts';
import { lockIssuedUnseen } from './lock-invoice.ts';
import { type CreditContext, type Memo, writeCreditMemo } from './write-credit-memo.ts';

/**
 * Gives back what a rule says, document by document of issued invoices, in their order.
 * @param creditsOf at most what is left of each line
 * @returns the ids of the memos, one for each invoice that gives something back
 */
export async function creditByRule(
  act: CreditContext,
  invoiceIds: readonly string[],
  memo: Pick<Memo, 'kind' | 'reason'>,
  creditsOf: (document: CreditableDocument) => readonly Credit[],
): Promise<string[]> {
  const memoIds: string[] = [];
  for (const id of invoiceIds) {
    const invoice = await lockIssuedUnseen(act, id);
    const documents = await creditableDocuments(act.tx, invoice.stored);
    const credited = [...documents.values()].flatMap((document) => {
      const credits = creditsOf(document);
      return credits.length === 0 ? [] : [creditedOn(document, credits)];
    });
    if (credited.length === 0) continue;
    const taxCents = sumOf(credited.map((document) => document.taxCents));
    const totalCents = sumOf(credited.map((document) => document.totalCents));
    memoIds.push(await writeCreditMemo(act, invoice, { ...memo, credited, taxCents, totalCents }));
  }
  return memoIds;
}

function creditedOn(document: CreditableDocument, credits: readonly Credit[]): CreditedDocument {
  const answer = creditDocument(document, credits);
  if (answer.outcome === 'credited') return answer.document;
  throw new Error(`what is left of a line cannot be credited: ${JSON.stringify(answer.refusals)}`);
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}
