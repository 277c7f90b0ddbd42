import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import type { declineRequestSchema } from './contract.ts';
import { lockQuote, moveRevision, supersedeDrafts } from './lock-quote.ts';
import { standingRevision } from './standing-revision.ts';

/**
 * Records the no, with the condition the system was left in and any danger warned of.
 * @throws ProblemError 409 when no revision stands
 */
export async function declineQuote(
  act: ActContext,
  quoteId: string,
  input: z.output<typeof declineRequestSchema>,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const standing = standingRevision(revisions, 'decline', act.now);
  await act.tx.quoteDecline.create({
    data: {
      quoteId,
      revision: standing.revision,
      declinedByName: input.declinedByName,
      reason: input.reason ?? null,
      conditionLeft: input.conditionLeft,
      dangerWarned: input.dangerWarned ?? null,
      declinedAt: act.now,
      recordedById: act.actor.id,
    },
  });
  await moveRevision(act.tx, quoteId, standing, 'decline', act.now);
  await supersedeDrafts(act, quoteId, revisions);
  await appendJournal(act, {
    event: 'quote.declined',
    subject: { kind: 'quote', id: quoteId },
    after: { revision: standing.revision },
  });
}
