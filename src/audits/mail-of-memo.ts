import type { Tx } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import type { WrittenLetter } from './write-letter.ts';

/** What the mail of a credit memo holds beside the memo. */
export interface MemoMail {
  /** As it was frozen with the owner's answer. */
  readonly letter?: WrittenLetter;
  /** Papers of the other memos of that answer for the same payer. */
  readonly otherPaperIds: readonly string[];
}

/**
 * What goes out with a credit memo. Whoever pays gets one mail of an answer: that of their first memo,
 * with their other memos in it. The letter tells of all memos of its answer, so there is none where
 * they are for more than one payer; and the mail of any other memo, or of one that no flag led to, tells
 * of that memo alone.
 */
export async function mailOfMemo(
  prisma: Pick<Tx, 'auditAnswerMemo'>,
  memoId: string,
): Promise<MemoMail> {
  const given = await prisma.auditAnswerMemo.findUnique({ where: { memoId }, select: answered });
  if (given === null) return ALONE;
  const { letter, letterLanguage, memos } = given.answer;
  const payerId = memos.find((each) => each.memoId === memoId)?.memo.invoice.payerId;
  const [first, ...others] = memos.filter(({ memo }) => memo.invoice.payerId === payerId);
  if (first?.memoId !== memoId) return ALONE;
  const otherPaperIds = others.flatMap(({ memo }) => memo.paperOfIt?.id ?? []);
  if (letter === null || otherPaperIds.length + 1 < memos.length) return { otherPaperIds };
  const language = letterLanguage === 'es' ? 'es' : 'en';
  return { letter: { language, text: letter }, otherPaperIds };
}

const ALONE: MemoMail = { otherPaperIds: [] };

const answered = {
  answer: {
    select: {
      letter: true,
      letterLanguage: true,
      memos: {
        select: {
          memoId: true,
          memo: {
            select: {
              invoice: { select: { payerId: true } },
              paperOfIt: { select: { id: true } },
            },
          },
        },
        orderBy: { memo: { number: 'asc' } },
      },
    },
  },
} as const satisfies Prisma.AuditAnswerMemoSelect;
