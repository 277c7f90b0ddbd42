import type { CorrectedDocument } from '../auditing/index.ts';
import { addCents, cents } from '../pricing/index.ts';
import { type CreditedDocument, creditDocument } from './credit-documents.ts';
import { creditableDocuments } from './creditable-documents.ts';
import { lockIssuedUnseen } from './lock-invoice.ts';
import { type CreditContext, type Memo, writeCreditMemo } from './write-credit-memo.ts';

/** A memo that gives back what a correction says, with the lines as its paper names them. */
export interface CorrectionMemo {
  readonly id: string;
  readonly invoiceId: string;
  readonly credited: readonly CreditedDocument[];
  readonly totalCents: number;
  /** Of its invoice, with the memo; below zero what the payer gets back. */
  readonly balanceCents: number;
}

/**
 * Gives back what an audit found to be too much: one memo for each invoice. Its invoices are locked,
 * and what it takes off was worked out since. Whoever pays several of them gets one mail, which is that
 * of their first memo.
 * @returns undefined where an invoice holds less than would be given back
 */
export async function creditCorrections(
  act: CreditContext,
  corrected: readonly CorrectedDocument[],
  memo: Pick<Memo, 'reason' | 'reasonInSpanish'>,
): Promise<CorrectionMemo[] | undefined> {
  const invoiceIds = [...new Set(corrected.map(({ invoiceId }) => invoiceId))].sort();
  const memos: CorrectionMemo[] = [];
  const told = new Set<string>();
  for (const invoiceId of invoiceIds) {
    const invoice = await lockIssuedUnseen(act, invoiceId);
    const documents = await creditableDocuments(act.tx, invoice.stored);
    const credited: CreditedDocument[] = [];
    for (const each of corrected.filter((one) => one.invoiceId === invoiceId)) {
      const document = documents.get(each.position);
      const answer = document && creditDocument(document, each.credits, each.taxCents);
      if (answer?.outcome !== 'credited') return undefined;
      if (answer.document.totalCents !== each.totalCents) return undefined;
      credited.push(answer.document);
    }
    const taxCents = addCents(credited.map((document) => cents(document.taxCents)));
    const totalCents = addCents(credited.map((document) => cents(document.totalCents)));
    const { payerId } = invoice.stored;
    const isInOtherMail = told.has(payerId);
    const sums = { credited, taxCents, totalCents };
    const whole: Memo = { kind: 'correction', ...memo, ...sums, isInOtherMail };
    told.add(payerId);
    const id = await writeCreditMemo(act, invoice, whole);
    const balanceCents = invoice.money.balanceCents - totalCents;
    memos.push({ id, invoiceId, credited, totalCents, balanceCents });
  }
  return memos;
}
