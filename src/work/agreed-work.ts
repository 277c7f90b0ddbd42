import type { Tx } from '../platform/database/database.ts';
import type { QuoteLine } from '../platform/database/generated/client.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { workKinds } from '../pricing/index.ts';
import { quoteRequests } from '../quotes/index.ts';

/** A line of an accepted option that sells work: a part, measured goods, or labor. */
export type SoldLine = Pick<QuoteLine, 'code' | 'findingIds' | 'quantity' | 'measured' | 'unit'> & {
  kind: string;
};

/** A yes with the work it sells. */
export interface AgreedWork {
  quoteId: string;
  revision: number;
  acceptedAt: Date;
  lines: SoldLine[];
}

/** The yeses of a ticket that stand, oldest quote first. */
export async function agreedWorkOf(
  tx: Pick<Tx, 'quoteAcceptance' | 'quoteLine'>,
  ticketId: string,
): Promise<AgreedWork[]> {
  const acceptances = await tx.quoteAcceptance.findMany({
    where: { quote: { ticketId }, cancellation: null },
    orderBy: { quote: { number: 'asc' } },
    select: { quoteId: true, revision: true, optionId: true, acceptedAt: true },
  });
  const lines = await tx.quoteLine.findMany({
    where: {
      optionId: { in: acceptances.map(({ optionId }) => optionId) },
      kind: { in: [...workKinds] },
    },
    orderBy: { position: 'asc' },
    select: {
      optionId: true,
      kind: true,
      code: true,
      findingIds: true,
      quantity: true,
      measured: true,
      unit: true,
    },
  });
  return acceptances.map(({ quoteId, revision, optionId, acceptedAt }) => ({
    quoteId,
    revision,
    acceptedAt,
    lines: lines.filter((line) => line.optionId === optionId),
  }));
}

/**
 * What one yes of a ticket sells for one finding.
 * @throws ProblemError 422 for a quote of another ticket and for a finding it sells nothing for, 409
 *   for a quote that nobody agreed to, or no longer
 */
export async function requireAgreed(
  act: ActContext,
  ticketId: string,
  { quoteId, findingId }: { quoteId: string; findingId: string },
): Promise<AgreedWork> {
  const agreed = (await agreedWorkOf(act.tx, ticketId)).find((each) => each.quoteId === quoteId);
  if (agreed === undefined) throw await notAgreed(act, ticketId, quoteId);
  if (!agreed.lines.some(({ findingIds }) => findingIds.includes(findingId))) {
    throw unknownReference(
      '/findingId',
      'The accepted option sells nothing for this finding. Work beyond it needs a change order.',
    );
  }
  return agreed;
}

async function notAgreed(
  { tx }: ActContext,
  ticketId: string,
  quoteId: string,
): Promise<ProblemError> {
  const quote = await tx.quote.findUnique({
    where: { id: quoteId, ticketId },
    select: {
      acceptance: { select: { quoteId: true } },
      states: { orderBy: { revision: 'desc' }, take: 1, select: { state: true } },
    },
  });
  const state = quote?.states[0]?.state;
  if (state === undefined) {
    return unknownReference('/quoteId', 'There is no such quote of this ticket.');
  }
  const isCancelled = quote?.acceptance !== null;
  return new ProblemError(
    'not-allowed-now',
    isCancelled
      ? 'The customer cancelled this yes. No work is done under it.'
      : `The quote is ${state}. No work is done before the yes.`,
    { currentState: state, allowedActions: quoteRequests(state) },
  );
}
