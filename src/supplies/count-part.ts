import type { z } from 'zod';
import type { ActContext } from '../platform/http/route.ts';
import type { countSchema } from './contract.ts';
import { levelOf } from './level-of.ts';
import { lockPlace } from './lock-place.ts';
import { placeOf } from './place-of.ts';
import { quantityText, thousandthsOf } from './quantity.ts';
import { type Moved, recordMove } from './record-move.ts';
import { requireStockable } from './require-stockable.ts';

/**
 * Records a count: its difference to the level is a move of its own, so that what was lost or found
 * stays on record with its reason.
 *
 * Two counts at once wait for each other on the place, or both would mend the same difference. What
 * is used meanwhile does not wait: it comes off the counted level, as if used right after the count.
 * @returns no move when the count found what should be there
 * @throws ProblemError 400, 404 for a place that is not theirs, 422 for an unknown part
 */
export async function countPart(
  act: ActContext,
  placeId: string,
  { partCode, counted, reason }: z.output<typeof countSchema>,
): Promise<{ move: Moved['move'] | null; level: string }> {
  await placeOf(act.tx, act, placeId);
  await lockPlace(act, placeId);
  await requireStockable(act, partCode, { counted });
  const level = await levelOf(act, placeId, partCode);
  const difference = thousandthsOf(counted) - thousandthsOf(level);
  if (difference === 0n) return { move: null, level };
  return recordMove(act, {
    placeId,
    partCode,
    quantity: quantityText(difference),
    kind: 'counted',
    reason,
  });
}
