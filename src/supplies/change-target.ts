import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { StockTarget } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { targetChangeSchema } from './contract.ts';
import { requireStockable } from './require-stockable.ts';

/**
 * Changes from which level on a part is ordered again, and up to how many.
 * @throws ProblemError 400, 404, 412 when somebody else changed it first
 */
export async function changeTarget(
  act: ActContext,
  key: { placeId: string; partCode: string },
  { reorderAt, orderUpTo }: z.output<typeof targetChangeSchema>,
): Promise<StockTarget> {
  // The row lock makes two changes that arrive together wait; the second then fails its If-Match.
  await sqlOf(act.tx).query(LOCK, [key.placeId, key.partCode]);
  const where = { placeId_partCode: key };
  const before = await act.tx.stockTarget.findUnique({ where });
  if (before === null) throw notFound('target');
  act.mustMatch(versionTag(before.version));
  await requireStockable(act, key.partCode, { reorderAt, orderUpTo });
  const after = await act.tx.stockTarget.update({
    where,
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

const LOCK = `
  SELECT 1 FROM stock_target WHERE place_id = $1 AND part_code = $2 FOR NO KEY UPDATE`;
