import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitOf } from '../visits/index.ts';
import { outcomeBody, partLeftOverBody, partUseBody, refrigerantMoveBody } from './answer-work.ts';
import type { visitWorkSchema } from './contract.ts';

/**
 * What was recorded of the work at a visit, in the order of recording.
 * @throws ProblemError 404 for a visit that is not theirs
 */
export async function workOfVisit(
  prisma: Pick<Tx, 'visit' | 'workOutcome' | 'partUse' | 'partLeftOver' | 'refrigerantMove'>,
  asker: Pick<ActContext, 'actor'>,
  visitId: string,
): Promise<z.input<typeof visitWorkSchema>> {
  await visitOf(prisma, asker, visitId);
  const of = { where: { visitId } };
  const outcomes = await prisma.workOutcome.findMany({
    ...of,
    orderBy: [{ recordedAt: 'asc' }, { quoteId: 'asc' }, { findingId: 'asc' }],
  });
  const partUses = await prisma.partUse.findMany({ ...of, orderBy: { id: 'asc' } });
  const leftOver = await prisma.partLeftOver.findMany({ ...of, orderBy: { id: 'asc' } });
  const moves = await prisma.refrigerantMove.findMany({ ...of, orderBy: { id: 'asc' } });
  return {
    outcomes: outcomes.map(outcomeBody),
    partUses: partUses.map(partUseBody),
    partsLeftOver: leftOver.map(partLeftOverBody),
    refrigerantMoves: moves.map(refrigerantMoveBody),
  };
}
