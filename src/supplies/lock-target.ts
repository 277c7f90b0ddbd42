import { sqlOf } from '../platform/database/database.ts';
import type { StockTarget } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/** Which part at which place. */
export interface TargetKey {
  placeId: string;
  partCode: string;
}

/**
 * A target, locked until the transaction ends: two changes that arrive together wait for each
 * other, and the second then fails its If-Match.
 * @throws ProblemError 404, 412 when the request means another version
 */
export async function lockTarget(act: ActContext, key: TargetKey): Promise<StockTarget> {
  await sqlOf(act.tx).query(LOCK, [key.placeId, key.partCode]);
  const target = await act.tx.stockTarget.findUnique({ where: { placeId_partCode: key } });
  if (target === null) throw notFound('target');
  act.mustMatch(versionTag(target.version));
  return target;
}

const LOCK = 'SELECT 1 FROM stock_target WHERE place_id = $1 AND part_code = $2 FOR UPDATE';
