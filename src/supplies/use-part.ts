import type { z } from 'zod';
import type { ActContext } from '../platform/http/route.ts';
import type { useSchema } from './contract.ts';
import { placeOf } from './place-of.ts';
import { type Moved, recordMove } from './record-move.ts';
import { requireStockable } from './require-stockable.ts';
import { requireVisited } from './require-visited.ts';

/**
 * Records that a part was used on a visit. There need not be any by our count: it was there, so the
 * count was wrong, and the level shows it by falling below zero.
 * @throws ProblemError 400, 404 for a place that is not theirs, 409 for a visit nobody arrived at,
 *   422 for an unknown part or visit
 */
export async function usePart(
  act: ActContext,
  placeId: string,
  { visitId, partCode, quantity }: z.output<typeof useSchema>,
): Promise<Moved> {
  await placeOf(act.tx, act, placeId);
  await requireVisited(act, visitId);
  await requireStockable(act, partCode, { quantity });
  return recordMove(act, { placeId, partCode, quantity: `-${quantity}`, kind: 'used', visitId });
}
