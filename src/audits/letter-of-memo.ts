import type { Tx } from '../platform/database/database.ts';
import type { WrittenLetter } from './write-letter.ts';

/**
 * The letter that goes with a credit memo, as it was frozen with the owner's answer. It tells of all
 * memos of that answer, so there is none where they are for more than one payer.
 * @returns undefined of a memo that no flag led to
 */
export async function letterOfMemo(
  prisma: Pick<Tx, 'auditAnswerMemo'>,
  memoId: string,
): Promise<WrittenLetter | undefined> {
  const given = await prisma.auditAnswerMemo.findUnique({
    where: { memoId },
    select: {
      answer: {
        select: {
          letter: true,
          letterLanguage: true,
          memos: { select: { memo: { select: { invoice: { select: { payerId: true } } } } } },
        },
      },
    },
  });
  if (given === null) return undefined;
  const { letter, letterLanguage, memos } = given.answer;
  const payers = new Set(memos.map(({ memo }) => memo.invoice.payerId));
  if (letter === null || payers.size > 1) return undefined;
  return { language: letterLanguage === 'es' ? 'es' : 'en', text: letter };
}
