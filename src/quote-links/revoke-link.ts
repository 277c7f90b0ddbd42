import type { z } from 'zod';
import { appendJournal, type Doer } from '../journal/index.ts';
import type { QuoteLink } from '../platform/database/generated/client.ts';
import { notFound, ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { answerLink } from './answer-links.ts';
import type { linkSchema } from './contract.ts';
import { openFacts } from './open-until.ts';

/**
 * Makes a link worthless, once.
 * @throws ProblemError 404 for an unknown link or one of another technician's quote, 409 for one
 *   that is worthless already
 */
export async function revokeLink(
  act: ActContext,
  linkId: string,
): Promise<z.input<typeof linkSchema>> {
  const link = await act.tx.quoteLink.findUnique({
    where: { id: linkId, quote: { visit: ownVisits(act.actor) } },
    include: openFacts,
  });
  if (link === null) throw notFound('link');
  const revoked = await act.tx.quoteLink.updateMany({
    where: { id: linkId, revokedAt: null },
    data: { revokedAt: act.now },
  });
  if (revoked.count === 0) {
    throw new ProblemError('not-allowed-now', 'This link is revoked already.', {
      currentState: 'revoked',
      allowedActions: [],
    });
  }
  await journalRevoked(act, link);
  return answerLink(act.tx, { ...link, revokedAt: act.now });
}

/** Whichever way a link became worthless. */
export async function journalRevoked(
  act: Doer,
  { id, quoteId, holder }: Pick<QuoteLink, 'id' | 'quoteId' | 'holder'>,
): Promise<void> {
  await appendJournal(act, {
    event: 'quote_link.revoked',
    subject: { kind: 'quote_link', id },
    after: { quoteId, holder },
  });
}
