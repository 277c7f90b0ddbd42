import type { z } from 'zod';
import { creditCancelled } from '../invoices/index.ts';
import { appendJournal } from '../journal/index.ts';
import type { QuoteAcceptance } from '../platform/database/generated/client.ts';
import { ProblemError, type ProblemExtensions } from '../platform/http/problem.ts';
import { type AnswerContext, witnessOf } from './answer-context.ts';
import type { cancellationRequestSchema } from './contract.ts';
import { latestOf, lockQuote } from './lock-quote.ts';

/**
 * Takes back a yes, where a consumer rule gives the customer that right and its time has not run
 * out, and with it the yeses to its change orders. The quotes stay accepted, for that is what
 * happened; what was sold under them is not billed, what was billed is credited, and nothing can be
 * added any more.
 * @throws ProblemError 409 for a quote without a yes, one cancelled already, or too late
 */
export async function cancelAcceptance(
  act: AnswerContext,
  quoteId: string,
  input: z.output<typeof cancellationRequestSchema>,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const acceptance = await act.tx.quoteAcceptance.findUnique({
    where: { quoteId },
    include: { cancellation: true },
  });
  const currentState = latestOf(revisions).state;
  if (acceptance === null) {
    throw notNow(`The quote is ${currentState}; there is no yes to cancel.`, { currentState });
  }
  if (acceptance.cancellation !== null) {
    throw notNow('This yes is cancelled already.', { currentState });
  }
  const { cancelUntil } = acceptance;
  if (cancelUntil === null || act.now >= cancelUntil) {
    throw notNow(
      cancelUntil === null
        ? 'No rule of this place gives a right to cancel this yes.'
        : 'The time to cancel this yes has run out.',
      { currentState, cancelUntil: cancelUntil?.toISOString() ?? null },
    );
  }
  const added = await act.tx.quoteAcceptance.findMany({
    where: { quote: { parentId: quoteId }, cancellation: { is: null } },
    orderBy: { quote: { number: 'asc' } },
  });
  for (const yes of [acceptance, ...added]) await cancel(act, yes, input);
  await creditCancelled(
    act,
    [acceptance, ...added].map((yes) => yes.quoteId),
  );
}

async function cancel(
  act: AnswerContext,
  { quoteId, revision, totalCents }: Pick<QuoteAcceptance, 'quoteId' | 'revision' | 'totalCents'>,
  { cancelledByName, noticeText }: z.output<typeof cancellationRequestSchema>,
): Promise<void> {
  await act.tx.acceptanceCancellation.create({
    data: {
      quoteId,
      cancelledByName,
      noticeText,
      cancelledAt: act.now,
      ...witnessOf(act),
      address: act.origin.address,
      userAgent: act.origin.userAgent ?? null,
    },
  });
  await appendJournal(act, {
    event: 'acceptance.cancelled',
    subject: { kind: 'quote', id: quoteId },
    after: { revision, totalCents },
  });
}

function notNow(detail: string, extensions: ProblemExtensions): ProblemError {
  return new ProblemError('not-allowed-now', detail, { ...extensions, allowedActions: [] });
}
