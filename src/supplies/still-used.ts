import type { ActContext } from '../platform/http/route.ts';
import { thousandthsOf } from './quantity.ts';

/** How much of a part is recorded as used on a visit and not brought back, in thousandths. */
export async function stillUsed(
  { tx }: Pick<ActContext, 'tx'>,
  visitId: string,
  partCode: string,
): Promise<bigint> {
  const moves = await tx.stockMove.findMany({
    where: { visitId, partCode },
    select: { quantity: true },
  });
  return moves.reduce((sum, move) => sum - thousandthsOf(move.quantity.toFixed()), 0n);
}
