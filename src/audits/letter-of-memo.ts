import type { Tx } from '../platform/database/database.ts';

/** The letter that was written with a credit memo, as it was frozen; none with any other memo. */
export async function letterOfMemo(
  prisma: Pick<Tx, 'auditAnswerMemo'>,
  memoId: string,
): Promise<string | undefined> {
  const found = await prisma.auditAnswerMemo.findUnique({
    where: { memoId },
    select: { answer: { select: { letter: true } } },
  });
  return found?.answer.letter ?? undefined;
}
