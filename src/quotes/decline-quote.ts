import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { publishPaper } from '../papers/index.ts';
import { type AnswerContext, witnessOf } from './answer-context.ts';
import type { declineRequestSchema } from './contract.ts';
import { lockQuote, moveRevision, supersedeDrafts } from './lock-quote.ts';
import { standingRevision } from './standing-revision.ts';

type Decline = z.output<typeof declineRequestSchema>;

/** A customer who says no from afar does not know how the system was left. */
type AnyDecline = Omit<Decline, 'conditionLeft'> & Partial<Pick<Decline, 'conditionLeft'>>;

/**
 * Records the no, with the condition the system was left in and any danger warned of.
 * @throws ProblemError 409 when no revision stands
 */
export async function declineQuote(
  act: AnswerContext,
  quoteId: string,
  input: AnyDecline,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const standing = standingRevision(revisions, 'decline', act.now);
  await act.tx.quoteDecline.create({
    data: {
      quoteId,
      revision: standing.revision,
      declinedByName: input.declinedByName,
      reason: input.reason ?? null,
      conditionLeft: input.conditionLeft ?? null,
      dangerWarned: input.dangerWarned ?? null,
      declinedAt: act.now,
      ...witnessOf(act),
    },
  });
  await moveRevision(act.tx, quoteId, standing, 'decline', act.now);
  await supersedeDrafts(act, quoteId, revisions);
  const { ticketId, number } = await act.tx.quote.findUniqueOrThrow({ where: { id: quoteId } });
  const of = { kind: 'decline', declineOf: quoteId } as const;
  await publishPaper(act, { ticketId, number, of });
  await appendJournal(act, {
    event: 'quote.declined',
    subject: { kind: 'quote', id: quoteId },
    after: { revision: standing.revision },
  });
}
