import type { z } from 'zod';
import { wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { useSchema } from './contract.ts';
import { placeOf } from './place-of.ts';
import { quantityText, thousandthsOf } from './quantity.ts';
import { type Moved, recordMove } from './record-move.ts';
import { requireStockable } from './require-stockable.ts';
import { requireVisited } from './require-visited.ts';
import { stillUsed } from './still-used.ts';

/**
 * Records that a part taken for a visit came back unused.
 * @throws ProblemError 400 for more than was used there, 404, 409, 422
 */
export async function bringBackPart(
  act: ActContext,
  placeId: string,
  { visitId, partCode, quantity }: z.output<typeof useSchema>,
): Promise<Moved> {
  await placeOf(act.tx, act, placeId);
  await requireVisited(act, visitId);
  await requireStockable(act, partCode, { quantity });
  await requireUsed(act, { visitId, partCode, quantity });
  return recordMove(act, { placeId, partCode, quantity, kind: 'brought_back', visitId });
}

// The visit is locked, so two who bring back the same part do not both find it used.
async function requireUsed(
  act: ActContext,
  { visitId, partCode, quantity }: z.output<typeof useSchema>,
): Promise<void> {
  const used = await stillUsed(act, visitId, partCode);
  if (thousandthsOf(quantity) <= used) return;
  throw wrongField(
    '/quantity',
    'more_than_used',
    `is more than the ${quantityText(used)} still recorded as used on this visit`,
  );
}
