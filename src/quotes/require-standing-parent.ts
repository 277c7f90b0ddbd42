import type { Tx } from '../platform/database/database.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { PricedVisit } from './price-options.ts';

/**
 * What a change order changes: an accepted quote of the same ticket that is none itself and whose
 * yes was not taken back. A further trip that was called for has a fee of its own, so what is found
 * there is no change of an earlier quote.
 * @throws ProblemError 422 for a quote that is not of this ticket, 409 for one that cannot be
 *   changed so
 */
export async function requireParent(
  tx: Pick<Tx, 'quote'>,
  parentId: string,
  visit: Pick<PricedVisit, 'id' | 'ticketId' | 'purpose'>,
): Promise<void> {
  const parent = await tx.quote.findUnique({
    where: { id: parentId },
    include: { acceptance: { include: { cancellation: true } } },
  });
  if (parent === null || parent.ticketId !== visit.ticketId) {
    throw unknownReference('/changeOrderOf', 'The ticket of this visit has no such quote.');
  }
  const { number, acceptance } = parent;
  if (parent.parentId !== null) {
    throw notChangeable(`Quote ${number} is a change order itself. Name the quote it changes.`);
  }
  if (acceptance === null) {
    throw notChangeable(`Quote ${number} is not accepted; make its next revision instead.`);
  }
  if (acceptance.cancellation !== null) throw parentCancelled(number);
  if (visit.purpose === 'call' && visit.id !== parent.visitId) {
    throw notChangeable('This trip was called for by itself. Draft a quote of its own.');
  }
}

/**
 * A change order falls with what it changes: once that yes was taken back, it is neither issued nor
 * accepted any more.
 * @throws ProblemError 409
 */
export async function requireStandingParent(
  tx: Pick<Tx, 'quote'>,
  { parentId }: { parentId: string | null },
): Promise<void> {
  if (parentId === null) return;
  const cancelled = await tx.quote.findFirst({
    where: { id: parentId, acceptance: { cancellation: { isNot: null } } },
    select: { number: true },
  });
  if (cancelled !== null) throw parentCancelled(cancelled.number);
}

function parentCancelled(number: number): ProblemError {
  return notChangeable(`The yes to quote ${number} was taken back; nothing is added to it.`);
}

function notChangeable(detail: string): ProblemError {
  return new ProblemError('not-allowed-now', detail, { allowedActions: [] });
}
