import type { z } from 'zod';
import { unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { addMoves, type NewMove } from './add-moves.ts';
import type { carrySchema } from './contract.ts';
import { placeOf } from './place-of.ts';
import { journalMove, type Moved } from './record-move.ts';
import { requireStockable } from './require-stockable.ts';

/**
 * Records that a part was carried from one place to another: both halves or neither.
 * @throws ProblemError 400 for one and the same place, 404, 422 for an unknown place or part
 */
export async function carryPart(
  act: ActContext,
  placeId: string,
  { toPlaceId, partCode, quantity }: z.output<typeof carrySchema>,
): Promise<{ from: Moved; to: Moved }> {
  await placeOf(act.tx, act, placeId);
  if (toPlaceId === placeId) {
    throw wrongField('/toPlaceId', 'same_place', 'must be another place');
  }
  const to = await act.tx.stockPlace.findUnique({ where: { id: toPlaceId } });
  if (to === null) throw unknownReference('/toPlaceId', 'There is no such place.');
  await requireStockable(act, partCode, { quantity });
  const [leftId, arrivedId] = [act.newId(), act.newId()];
  const carried = { partCode, kind: 'carried' } as const;
  const left: NewMove = {
    ...carried,
    id: leftId,
    placeId,
    quantity: `-${quantity}`,
    otherMoveId: arrivedId,
  };
  const arrived: NewMove = {
    ...carried,
    id: arrivedId,
    placeId: toPlaceId,
    quantity,
    otherMoveId: leftId,
  };
  await addMoves(act, [left, arrived]);
  return { from: await journalMove(act, left), to: await journalMove(act, arrived) };
}
