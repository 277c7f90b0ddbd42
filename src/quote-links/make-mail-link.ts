import { appendJournal, type Doer } from '../journal/index.ts';
import { hashOfToken, newToken } from '../platform/access/token.ts';
import { isExpired, lockRevisions } from '../quotes/index.ts';
import { endingFacts, endingOf } from './ending-of.ts';
import { daysAfter, OPENS_FOR_DAYS, openFacts, openUntil } from './open-until.ts';

export interface MailLink {
  id: string;
  /** Below our address; it is told here alone. */
  path: `/${string}`;
}

/**
 * Why there is none: nothing is left to answer (answered, withdrawn, run out, another revision took
 * its place, its job ended, or what it would change was cancelled), or somebody else has that
 * person's place at the site by now.
 */
export type NoMailLink = 'nothing_to_answer' | 'not_theirs';

/** What a link in a mail is for. */
export interface MailLinkFor {
  quoteId: string;
  revision: number;
  holder: 'approver' | 'payer';
  holderId: string;
  deliveryId: string;
}

/**
 * Makes the link for one mail about a quote that waits for its answer. Nobody of our staff is told
 * it, so an answer through it can only be the reader's. The link that staff made stays as it is.
 * @returns why there is none, where that person has nothing to answer there
 */
export async function makeMailLink(
  doer: Doer,
  { quoteId, revision, holder, holderId, deliveryId }: MailLinkFor,
): Promise<MailLink | NoMailLink> {
  const { tx, now, newId } = doer;
  // A newer revision takes its place once it is issued; until then a draft changes nothing for it.
  const revisions = await lockRevisions(tx, quoteId);
  const mailed = revisions.find((each) => each.revision === revision);
  if (mailed?.state !== 'issued' || isExpired(mailed, now)) return 'nothing_to_answer';
  const quote = await quoteNow(tx, quoteId);
  if (endingOf(quote) !== undefined) return 'nothing_to_answer';
  if (quote.ticket.site[`${holder}Id`] !== holderId) return 'not_theirs';
  const token = newToken();
  const link = await tx.quoteLink.create({
    data: {
      id: newId(),
      ...{ quoteId, holder, holderId, deliveryId },
      tokenHash: hashOfToken(token),
      createdAt: now,
      expiresAt: daysAfter(now, OPENS_FOR_DAYS),
    },
    include: openFacts,
  });
  await appendJournal(doer, {
    event: 'quote_link.made',
    subject: { kind: 'quote_link', id: link.id },
    after: { quoteId, holder, holderId, deliveryId, expiresAt: openUntil(link) },
  });
  return { id: link.id, path: `/q/${token}` };
}

/** Read once the ticket is held, so that it neither ends nor changes hands meanwhile. */
function quoteNow(tx: Doer['tx'], id: string) {
  const site = { select: { approverId: true, payerId: true } } as const;
  return tx.quote.findUniqueOrThrow({
    where: { id },
    select: { ...endingFacts, ticket: { select: { state: true, site } } },
  });
}
