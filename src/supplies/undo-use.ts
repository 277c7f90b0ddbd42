import type { ActContext } from '../platform/http/route.ts';
import { lockPlace } from './lock-place.ts';
import { quantityText, thousandthsOf } from './quantity.ts';
import { recordMove } from './record-move.ts';

/** How much lies where it was taken from again, and why no more, where it is not all of it. */
export interface Undone {
  broughtBack: string;
  whyNoMore: 'counted_since' | 'back_already' | null;
}

/**
 * Brings a part back to where it was taken from, because it did not go in after all. What somebody
 * brought back by hand meanwhile, there or elsewhere, is not brought back twice; and who counted
 * there since has counted it.
 * @param moveId the move that took it, whose use is struck out; the caller has locked its visit and
 *   may see it
 */
export async function undoUse(act: ActContext, moveId: string): Promise<Undone> {
  const move = await act.tx.stockMove.findUniqueOrThrow({ where: { id: moveId } });
  const { placeId, partCode, visitId } = move;
  if (visitId === null) throw new Error('a part is used on a visit');
  const countId = await lastCount(act, placeId, partCode);
  // Identifiers are in the order of time.
  if (countId !== undefined && countId > moveId) {
    return { broughtBack: '0', whyNoMore: 'counted_since' };
  }
  const taken = -thousandthsOf(move.quantity.toFixed());
  const here = { placeId, ...(countId !== undefined && { id: { gt: countId } }) };
  const back = leastOf(
    taken,
    await struckAndOut(act, { visitId, partCode, ...here }),
    await struckAndOut(act, { visitId, partCode }),
  );
  const quantity = quantityText(back);
  if (back > 0n) {
    await recordMove(act, { placeId, partCode, quantity, kind: 'brought_back', visitId });
  }
  return { broughtBack: quantity, whyNoMore: back < taken ? 'back_already' : null };
}

/** The last count that was off. Who counts there at the same moment waits, or has come first. */
async function lastCount(
  act: ActContext,
  placeId: string,
  partCode: string,
): Promise<string | undefined> {
  await lockPlace(act, placeId);
  const count = await act.tx.stockMove.findFirst({
    where: { placeId, partCode, kind: 'counted' },
    orderBy: { id: 'desc' },
    select: { id: true },
  });
  return count?.id;
}

/**
 * How much of a part is struck out as used on a visit and was not brought back, in thousandths. What
 * stands as used, or was taken by hand, is still used and none of it.
 */
async function struckAndOut(
  { tx }: ActContext,
  of: { visitId: string; partCode: string; placeId?: string; id?: { gt: string } },
): Promise<bigint> {
  const moves = await tx.stockMove.findMany({
    where: { ...of, OR: [{ kind: 'brought_back' }, { partUse: { strike: { isNot: null } } }] },
    select: { quantity: true },
  });
  return moves.reduce((sum, move) => sum - thousandthsOf(move.quantity.toFixed()), 0n);
}

/** The least of some amounts, and nothing where one of them is below. */
function leastOf(first: bigint, ...others: bigint[]): bigint {
  let least = first;
  for (const each of others) if (each < least) least = each;
  return least > 0n ? least : 0n;
}
