import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { isTaken } from '../platform/database/violation.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { newFollowUpSchema } from './contract.ts';
import { lockRevisions } from './lock-quote.ts';
import { standingRevision } from './standing-revision.ts';

type NewFollowUp = z.output<typeof newFollowUpSchema>;

/**
 * Puts on record that the customer was asked about a quote that waits for an answer.
 * @throws ProblemError 404; 409 unless that revision is the one that waits, when it has expired, or
 *   for a step that was taken already
 */
export async function recordFollowUp(
  act: ActContext,
  quoteId: string,
  { revision, step, way, note }: NewFollowUp,
): Promise<void> {
  const standing = standingRevision(await lockRevisions(act.tx, quoteId), 'accept', act.now);
  if (standing.revision !== revision) {
    throw new ProblemError(
      'not-allowed-now',
      `Revision ${standing.revision} is with the customer now.`,
      { currentState: 'superseded', revision: standing.revision, allowedActions: [] },
    );
  }
  await insertOnce(act, { quoteId, revision, step, way, note: note ?? null });
  await appendJournal(act, {
    event: 'quote.followed_up',
    subject: { kind: 'quote', id: quoteId },
    after: { revision, step, way },
  });
}

type Row = Required<Pick<NewFollowUp, 'revision' | 'step' | 'way'>> & {
  quoteId: string;
  note: string | null;
};

/** One step is taken once, by the primary key: of two who take it at once the second is refused. */
async function insertOnce(act: ActContext, row: Row): Promise<void> {
  try {
    await act.tx.quoteFollowUp.create({
      data: { ...row, followedAt: act.now, recordedById: act.actor.id },
    });
  } catch (error) {
    if (!isTaken(error)) throw error;
    throw new ProblemError('already-exists', `Step ${row.step} was taken already.`);
  }
}
