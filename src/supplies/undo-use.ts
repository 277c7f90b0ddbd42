import type { ActContext } from '../platform/http/route.ts';
import { quantityText, thousandthsOf } from './quantity.ts';
import { recordMove } from './record-move.ts';
import { stillUsed } from './still-used.ts';

/**
 * Brings a part back to where it was taken from, because it did not go in after all; what somebody
 * brought back by hand meanwhile is not brought back twice.
 * @param moveId the move that took it; the caller has locked its visit and may see it
 */
export async function undoUse(act: ActContext, moveId: string): Promise<void> {
  const move = await act.tx.stockMove.findUniqueOrThrow({ where: { id: moveId } });
  const { placeId, partCode, visitId } = move;
  if (visitId === null) throw new Error('a part is used on a visit');
  const taken = -thousandthsOf(move.quantity.toFixed());
  const left = await stillUsed(act, visitId, partCode);
  const wasBroughtBack = taken - left;
  const back = wasBroughtBack > 0n ? left : taken;
  if (back <= 0n) return;
  const quantity = quantityText(back);
  await recordMove(act, { placeId, partCode, quantity, kind: 'brought_back', visitId });
}
