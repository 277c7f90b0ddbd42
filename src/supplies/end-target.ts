import { appendJournal } from '../journal/index.ts';
import type { StockTarget } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTarget, type TargetKey } from './lock-target.ts';

/**
 * Ends a target: the part is not ordered again for the place. What lies there stays.
 * @returns the target as it was
 * @throws ProblemError 404, 412 when somebody else changed it first
 */
export async function endTarget(act: ActContext, key: TargetKey): Promise<StockTarget> {
  const target = await lockTarget(act, key);
  await act.tx.stockTarget.delete({ where: { placeId_partCode: key } });
  await appendJournal(act, {
    event: 'stock_target.ended',
    subject: { kind: 'stock_place', id: key.placeId },
    before: {
      partCode: key.partCode,
      reorderAt: target.reorderAt.toFixed(),
      orderUpTo: target.orderUpTo.toFixed(),
    },
  });
  return target;
}
