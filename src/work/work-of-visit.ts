import type { z } from 'zod';
import type { Tx } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import { visitOf } from '../visits/index.ts';
import { outcomeBody, partLeftOverBody, partUseBody, refrigerantMoveBody } from './answer-work.ts';
import type { visitWorkSchema } from './contract.ts';

/**
 * What was recorded of the work at a visit, in the order of recording; also what was struck out.
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
    orderBy: [{ recordedAt: 'asc' }, { quoteId: 'asc' }, { findingId: 'asc' }, { id: 'asc' }],
    include: { strike: true },
  });
  const inOrder = { ...of, orderBy: { id: 'asc' }, include: { strike: true } } as const;
  const partUses = await prisma.partUse.findMany(inOrder);
  const leftOver = await prisma.partLeftOver.findMany(inOrder);
  const moves = await prisma.refrigerantMove.findMany(inOrder);
  return {
    outcomes: outcomes.map(({ strike, ...row }) => outcomeBody(row, strike)),
    partUses: partUses.map(({ strike, ...row }) => partUseBody(row, strike)),
    partsLeftOver: leftOver.map(({ strike, ...row }) => partLeftOverBody(row, strike)),
    refrigerantMoves: moves.map(({ strike, ...row }) => refrigerantMoveBody(row, strike)),
  };
}
