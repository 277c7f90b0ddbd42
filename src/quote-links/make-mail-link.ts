import { appendJournal, type Doer } from '../journal/index.ts';
import { isExpired, lockRevisions } from '../quotes/index.ts';
import { endingFacts, endingOf } from './ending-of.ts';
import { hashOfToken, newToken } from './link-token.ts';
import { daysAfter, OPENS_FOR_DAYS, openFacts, openUntil } from './open-until.ts';

export interface MailLink {
  id: string;
  /** Below our address; it is told here alone. */
  path: `/${string}`;
}

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
 * @returns undefined where there is nothing to answer there: another revision took its place, it was
 *   answered, withdrawn or ran out, its job ended or what it would change was cancelled, or somebody
 *   else has that person's place at the site by now
 */
export async function makeMailLink(
  doer: Doer,
  { quoteId, revision, holder, holderId, deliveryId }: MailLinkFor,
): Promise<MailLink | undefined> {
  const { tx, now, newId } = doer;
  // A newer revision takes its place once it is issued; until then a draft changes nothing for it.
  const revisions = await lockRevisions(tx, quoteId);
  const mailed = revisions.find((each) => each.revision === revision);
  if (mailed?.state !== 'issued' || isExpired(mailed, now)) return undefined;
  const quote = await quoteNow(tx, quoteId);
  if (endingOf(quote) !== undefined) return undefined;
  if (quote.ticket.site[`${holder}Id`] !== holderId) return undefined;
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
