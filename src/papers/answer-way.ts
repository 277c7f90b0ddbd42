import type { PaperAnswerWay } from '../documents/index.ts';
import type { Tx } from '../platform/database/database.ts';

/** How an answer reached us: the customer gave it at a link, or our staff put it on record. */
export async function answerWay(
  tx: Pick<Tx, 'staff'>,
  { recordedById }: { recordedById: string | null },
): Promise<PaperAnswerWay> {
  if (recordedById === null) return { way: 'link' };
  const { name } = await tx.staff.findUniqueOrThrow({ where: { id: recordedById } });
  return { way: 'staff', recordedBy: name };
}
