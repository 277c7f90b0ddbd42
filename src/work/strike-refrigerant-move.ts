import type { RefrigerantMove, Ticket, WorkStrike } from '../platform/database/generated/client.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { chargedAndUsed, isWeighed } from './charged-and-used.ts';
import { lockUnclosed } from './lock-unclosed.ts';
import { strikeOut } from './strike-out.ts';

/**
 * Strikes out refrigerant that was not moved as it was written down. What is recorded as used keeps
 * its weighing: the right one is recorded first, or the use is struck out before it.
 * @throws ProblemError 404 for a move of a visit that is not theirs, 409 when it is struck out
 *   already, refrigerant recorded as used rests on it or the ticket was closed since
 */
export async function strikeRefrigerantMove(
  act: ActContext,
  id: string,
  reason: string,
): Promise<{ row: RefrigerantMove; strike: WorkStrike }> {
  const found = await act.tx.refrigerantMove.findUnique({
    where: { id, visit: ownVisits(act.actor) },
    include: { equipment: { select: { systemId: true } } },
  });
  if (found === null) throw notFound('refrigerant');
  const { equipment, ...row } = found;
  const ticket = await lockUnclosed(act, row.visitId);
  const strike = await strikeOut(act, { kind: 'refrigerant_move', row }, reason);
  if (row.direction === 'charged') await refuseUsed(act, ticket, equipment.systemId);
  return { row, strike };
}

async function refuseUsed(act: ActContext, ticket: Ticket, systemId: string): Promise<void> {
  const scale = await chargedAndUsed(act, ticket.id, systemId);
  if (isWeighed(scale)) return;
  const [chargedOz, usedOz] = [scale.chargedOz.toFixed(), scale.usedOz.toFixed()];
  throw new ProblemError(
    'not-allowed-now',
    `Without it the scale says ${chargedOz} oz went in, and ${usedOz} oz are recorded as used. Record the right weights first, or strike out what was used.`,
    { currentState: 'used', action: 'strike', allowedActions: [], chargedOz, usedOz },
  );
}
