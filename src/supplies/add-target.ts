import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { StockTarget } from '../platform/database/generated/client.ts';
import { isTaken } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newTargetSchema } from './contract.ts';
import { placeOf } from './place-of.ts';
import { requireStockable } from './require-stockable.ts';

/**
 * Says from which level on a part is ordered again for a place, and up to how many.
 * @throws ProblemError 400, 404, 409 when the part has a target there, 422 for an unknown part
 */
export async function addTarget(
  act: ActContext,
  placeId: string,
  { partCode, reorderAt, orderUpTo }: z.output<typeof newTargetSchema>,
): Promise<StockTarget> {
  await placeOf(act.tx, act, placeId);
  await requireStockable(act, partCode, { reorderAt, orderUpTo });
  const target = await insertTarget(act, { placeId, partCode, reorderAt, orderUpTo });
  await appendJournal(act, {
    event: 'stock_target.set',
    subject: { kind: 'stock_place', id: placeId },
    after: { partCode, reorderAt, orderUpTo },
  });
  return target;
}

// Two that arrive together both find none; the key of the table lets one of them in.
async function insertTarget(
  { tx }: ActContext,
  data: { placeId: string; partCode: string; reorderAt: string; orderUpTo: string },
): Promise<StockTarget> {
  try {
    return await tx.stockTarget.create({ data });
  } catch (error) {
    if (!isTaken(error)) throw error;
    throw new ProblemError('already-exists', 'This part has a target at this place: change that.');
  }
}
