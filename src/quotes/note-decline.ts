import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { isTaken } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { declineNoteSchema } from './contract.ts';
import { latestOf, lockRevisions } from './lock-quote.ts';

/**
 * Puts on record how the system was left after a no that came from afar, and any danger warned of.
 * The customer's page shows it with the no.
 * @throws ProblemError 404; 409 for a quote that was not declined, or a no that has this on record
 */
export async function noteDecline(
  act: ActContext,
  quoteId: string,
  { conditionLeft, dangerWarned }: z.output<typeof declineNoteSchema>,
): Promise<void> {
  const { state } = latestOf(await lockRevisions(act.tx, quoteId));
  const decline = await act.tx.quoteDecline.findUnique({ where: { quoteId } });
  if (decline === null) {
    throw new ProblemError('not-allowed-now', `The quote is ${state}; nobody declined it.`, {
      currentState: state,
      allowedActions: [],
    });
  }
  if (decline.conditionLeft !== null) throw saidAlready();
  try {
    await act.tx.quoteDeclineNote.create({
      data: {
        quoteId,
        conditionLeft,
        dangerWarned: dangerWarned ?? null,
        notedAt: act.now,
        notedById: act.actor.id,
      },
    });
  } catch (error) {
    throw isTaken(error) ? saidAlready() : error;
  }
  await appendJournal(act, {
    event: 'quote.decline_noted',
    subject: { kind: 'quote', id: quoteId },
    after: { revision: decline.revision },
  });
}

function saidAlready(): ProblemError {
  return new ProblemError('already-exists', 'How the system was left is on record already.');
}
