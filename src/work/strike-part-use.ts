import type { PartUse, WorkStrike } from '../platform/database/generated/client.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { type Undone, undoUse } from '../supplies/index.ts';
import { lockUnclosed } from './lock-unclosed.ts';
import { strikeOut } from './strike-out.ts';

/** What came of the stock: nothing, where it is not on record where the part was taken from. */
export type BackInStock = Undone | { broughtBack: '0'; whyNoMore: 'not_taken_from_stock' };

/**
 * Strikes out a part that did not go in as it was written down. What was taken from stock for it
 * lies there again, unless it came back already.
 * @throws ProblemError 404 for a part of a visit that is not theirs, 409 when it is struck out
 *   already, it is claimed from its maker, work recorded as done rests on it or the ticket was closed
 *   since
 */
export async function strikePartUse(
  act: ActContext,
  id: string,
  reason: string,
): Promise<{ row: PartUse; strike: WorkStrike; stock: BackInStock }> {
  const where = { id, visit: ownVisits(act.actor) };
  const row = await act.tx.partUse.findUnique({ where });
  if (row === null) throw notFound('part');
  await lockUnclosed(act, row.visitId);
  await refuseClaimed(act, id);
  await refuseLastOfDone(act, row);
  const strike = await strikeOut(act, { kind: 'part_use', row }, reason);
  return { row, strike, stock: await backInStock(act, row) };
}

async function backInStock(act: ActContext, { stockMoveId }: PartUse): Promise<BackInStock> {
  if (stockMoveId !== null) return undoUse(act, stockMoveId);
  return { broughtBack: '0', whyNoMore: 'not_taken_from_stock' };
}

/** Whoever opens the claim takes the same lock, so one of the two sees the other. */
async function refuseClaimed({ tx }: ActContext, partUseId: string): Promise<void> {
  const claim = await tx.warrantyClaim.findUnique({
    where: { partUseId },
    select: { id: true, state: { select: { state: true } } },
  });
  const state = claim?.state?.state ?? 'none';
  const why = CLAIMED[state];
  if (why === undefined) return;
  throw new ProblemError('not-allowed-now', why, {
    currentState: `claim_${state}`,
    action: 'strike',
    allowedActions: [],
    claimId: claim?.id,
  });
}

/** What a claim says of its part while it stands; one that was withdrawn or refused asks for nothing. */
const CLAIMED: { readonly [state: string]: string } = {
  open: 'This part is being claimed from its maker. Withdraw the claim first.',
  sent: 'Its maker has the claim for this part, so the record stands until the maker answers.',
  credited: 'Its maker has credited this part, so the record stands.',
};

/** Labor is billed and warranted by what is recorded as done, so that is struck out first. */
async function refuseLastOfDone({ tx }: ActContext, use: PartUse): Promise<void> {
  const { id, quoteId, findingId } = use;
  const outcome = await tx.workOutcome.findFirst({
    where: { quoteId, findingId, outcome: 'done', strike: null },
    select: { id: true },
  });
  if (outcome === null) return;
  const others = await tx.partUse.count({
    where: { quoteId, findingId, strike: null, id: { not: id } },
  });
  if (others > 0) return;
  throw new ProblemError(
    'not-allowed-now',
    'This work is recorded as done, and this is the last part of it on record. Strike out first that it was done, then the part; then record what is true.',
    { currentState: 'done', action: 'strike', allowedActions: [], workOutcomeId: outcome.id },
  );
}
