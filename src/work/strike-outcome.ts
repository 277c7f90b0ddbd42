import type { WorkOutcome, WorkStrike } from '../platform/database/generated/client.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { lockUnclosed } from './lock-unclosed.ts';
import { strikeOut } from './strike-out.ts';

/**
 * Strikes out that work was done, or was not, so that it is said again. Nothing is billed, warranted
 * or sold again by what was struck out.
 * @throws ProblemError 404 for work at a visit that is not theirs, 409 when it is struck out already,
 *   something was accepted since the work was said not to be done, or the ticket was closed since
 */
export async function strikeOutcome(
  act: ActContext,
  id: string,
  reason: string,
): Promise<{ row: WorkOutcome; strike: WorkStrike }> {
  const where = { id, visit: ownVisits(act.actor) };
  const row = await act.tx.workOutcome.findUnique({ where });
  if (row === null) throw notFound('outcome');
  const ticket = await lockUnclosed(act, row.visitId);
  if (row.outcome === 'not_done') await refuseSoldSince(act, ticket.id, row);
  return { row, strike: await strikeOut(act, { kind: 'work_outcome', row }, reason) };
}

/** Work not done may be sold again, and what is sold after it is priced by it. */
async function refuseSoldSince(
  { tx }: ActContext,
  ticketId: string,
  { quoteId, recordedAt }: WorkOutcome,
): Promise<void> {
  const since = await tx.quoteAcceptance.findFirst({
    where: {
      quote: { ticketId, id: { not: quoteId } },
      acceptedAt: { gte: recordedAt },
      cancellation: null,
    },
    orderBy: { acceptedAt: 'asc' },
    select: { quote: { select: { number: true } } },
  });
  if (since === null) return;
  throw new ProblemError(
    'not-allowed-now',
    `Quote ${since.quote.number} was accepted since this work was said not to be done, and is priced by it. The record stands.`,
    { currentState: 'not_done', action: 'strike', allowedActions: [] },
  );
}
