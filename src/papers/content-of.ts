import type { Paper, PaperLanguage } from '../documents/index.ts';
import { inTx } from '../platform/database/in-tx.ts';
import type { PaperContext } from './file-of.ts';
import { paperOf } from './paper-of.ts';
import type { PaperRow } from './paper-row.ts';

/**
 * What a paper says, in one language. Work that was closed before there were records of it is
 * recorded when somebody first asks, once.
 * @returns undefined in a language that it was not issued in
 */
export async function contentOf(
  { db, prisma, papers }: PaperContext,
  row: PaperRow,
  language: PaperLanguage,
): Promise<Paper | undefined> {
  const { closingId } = row;
  if (closingId !== null && (await prisma.workRecord.count({ where: { closingId } })) === 0) {
    await inTx(db, (tx) => papers.recordWork(tx, closingId));
  }
  return paperOf(prisma, row, language);
}
