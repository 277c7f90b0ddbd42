import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Keeps a visit to one accepted quote: a second would charge its fee, and could sell the same
 * work, twice. What is found later is a change order of the accepted quote; a yes that was taken
 * back leaves room for another. Whoever accepts holds
 * the visit's row, so two yeses to two quotes wait for each other; the database refuses as well.
 * @param quoteId the quote being issued or accepted; none while it is drafted
 * @throws ProblemError 409 when another quote of the visit is accepted
 */
export async function refuseSecondQuote(
  act: Pick<ActContext, 'tx'>,
  visitId: string,
  quoteId?: string,
): Promise<void> {
  await lockRow(act.tx, 'visit', visitId);
  const accepted = await act.tx.quote.findFirst({
    where: {
      visitId,
      parentId: null,
      acceptance: { is: { cancellation: { is: null } } },
      ...(quoteId !== undefined && { id: { not: quoteId } }),
    },
    select: { id: true, number: true },
  });
  if (accepted === null) return;
  throw new ProblemError(
    'not-allowed-now',
    `Quote ${accepted.number} of this visit is accepted. Work beyond it needs a change order.`,
    { currentState: 'accepted', acceptedQuoteId: accepted.id, allowedActions: [] },
  );
}

/**
 * The same for a quote that is there; a change order is what the rule asks for. Either way the
 * visit stays locked, so that no reading slips in between a look at the evidence and the answer.
 */
export async function refuseSecondOfVisit(
  act: Pick<ActContext, 'tx'>,
  quoteId: string,
): Promise<void> {
  const { visitId, parentId } = await act.tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    select: { visitId: true, parentId: true },
  });
  if (parentId === null) await refuseSecondQuote(act, visitId, quoteId);
  else await lockRow(act.tx, 'visit', visitId);
}
