import type { Tx } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { lastClosing } from '../tickets/index.ts';

/**
 * Nothing more is sold for a visit whose ticket was closed since: its fee and its work are billed.
 * What is found when the trouble is back is quoted at the callback. Identifiers are in the order of
 * time, also within one instant of the clock.
 * @throws ProblemError 409
 */
export async function requireCurrentVisit(
  tx: Pick<Tx, 'ticketClosing'>,
  { visitId, ticketId }: { visitId: string; ticketId: string },
): Promise<void> {
  const closing = await lastClosing(tx, ticketId);
  if (closing === undefined || visitId > closing.id) return;
  throw new ProblemError(
    'not-allowed-now',
    'The ticket was closed since that visit. Quote it at the callback.',
    { currentState: 'finished', allowedActions: [] },
  );
}
