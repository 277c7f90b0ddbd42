import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { StockTarget } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { targetChangeSchema } from './contract.ts';
import { lockTarget, type TargetKey } from './lock-target.ts';
import { requireStockable } from './require-stockable.ts';

/**
 * Changes from which level on a part is ordered again, and up to how many.
 * @throws ProblemError 400, 404, 412 when somebody else changed it first
 */
export async function changeTarget(
  act: ActContext,
  key: TargetKey,
  { reorderAt, orderUpTo }: z.output<typeof targetChangeSchema>,
): Promise<StockTarget> {
  const before = await lockTarget(act, key);
  await requireStockable(act, key.partCode, { reorderAt, orderUpTo });
  const after = await act.tx.stockTarget.update({
    where: { placeId_partCode: key },
    data: { reorderAt, orderUpTo, version: before.version + 1 },
  });
  await appendJournal(act, {
    event: 'stock_target.set',
    subject: { kind: 'stock_place', id: key.placeId },
    before: {
      partCode: key.partCode,
      reorderAt: before.reorderAt.toFixed(),
      orderUpTo: before.orderUpTo.toFixed(),
    },
    after: { partCode: key.partCode, reorderAt, orderUpTo },
  });
  return after;
}
