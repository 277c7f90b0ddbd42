import type { PartLeftOver, WorkStrike } from '../platform/database/generated/client.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { lockUnclosed } from './lock-unclosed.ts';
import { strikeOut } from './strike-out.ts';

/**
 * Strikes out a part that was not left over as it was written down: it is sold as before.
 * @throws ProblemError 404 for a part of a visit that is not theirs, 409 when it is struck out
 *   already or the ticket was closed since
 */
export async function strikePartLeftOver(
  act: ActContext,
  id: string,
  reason: string,
): Promise<{ row: PartLeftOver; strike: WorkStrike }> {
  const where = { id, visit: ownVisits(act.actor) };
  const row = await act.tx.partLeftOver.findUnique({ where });
  if (row === null) throw notFound('part');
  await lockUnclosed(act, row.visitId);
  const strike = await strikeOut(act, { kind: 'part_left_over', row }, reason);
  return { row, strike };
}
