import { appendJournal } from '../journal/index.ts';
import type { ActContext } from '../platform/http/route.ts';
import { latestOf, lockQuote, moveRevision } from './lock-quote.ts';

/**
 * Withdraws a quote: its draft, and the revision that stands with the customer.
 * @throws ProblemError 409 for a quote that was answered or withdrawn already
 */
export async function withdrawQuote(act: ActContext, quoteId: string): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const latest = latestOf(revisions);
  await moveRevision(act.tx, quoteId, latest, 'withdraw', act.now);
  const standing = revisions.find(({ state }) => state === 'issued');
  if (standing !== undefined && standing !== latest) {
    await moveRevision(act.tx, quoteId, standing, 'withdraw', act.now);
  }
  await appendJournal(act, {
    event: 'quote.withdrawn',
    subject: { kind: 'quote', id: quoteId },
    after: { revision: latest.revision },
  });
}
