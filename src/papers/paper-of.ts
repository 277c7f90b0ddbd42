import type {
  CreditMemoPaper,
  InvoicePaper,
  Paper,
  PaperLanguage,
  WorkRecordPaper,
} from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { acceptancePaperOf } from './acceptance-paper-of.ts';
import { declinePaperOf } from './decline-paper-of.ts';
import { frozenIn } from './frozen.ts';
import { answerRow, type PaperRow } from './paper-row.ts';
import { quoteFrozen } from './quote-frozen.ts';

/**
 * What a paper says, in one language.
 * @returns undefined in a language that it was not issued in
 */
export async function paperOf(
  tx: Tx,
  row: PaperRow,
  language: PaperLanguage,
): Promise<Paper | undefined> {
  const { revision, acceptanceOf, declineOf, invoiceId, memoId, closingId } = row;
  if (revision !== null) {
    const answered = { quoteId: revision.quoteId, revision: revision.number };
    return inKind('quote', await quoteFrozen(tx, answered, language));
  }
  if (acceptanceOf !== null) {
    return inKind(
      'acceptance',
      await acceptancePaperOf(tx, acceptanceOf, answerRow(row), language),
    );
  }
  if (declineOf !== null)
    return inKind('decline', await declinePaperOf(tx, declineOf, answerRow(row), language));
  if (invoiceId !== null) {
    const issue = await tx.invoiceIssue.findUniqueOrThrow({ where: { invoiceId } });
    return inKind('invoice', frozenIn<InvoicePaper>(issue, language));
  }
  if (memoId !== null) {
    const memo = await tx.creditMemo.findUniqueOrThrow({ where: { id: memoId } });
    return inKind('credit_memo', frozenIn<CreditMemoPaper>(memo, language));
  }
  if (closingId === null) throw new Error(`paper ${row.id} tells of nothing`);
  const record = await tx.workRecord.findUniqueOrThrow({ where: { closingId } });
  return inKind('work_record', frozenIn<WorkRecordPaper>(record, language));
}

function inKind<K extends Paper['kind']>(
  kind: K,
  paper: Extract<Paper, { kind: K }>['paper'] | undefined,
): Paper | undefined {
  return paper && ({ kind, paper } as Paper);
}
