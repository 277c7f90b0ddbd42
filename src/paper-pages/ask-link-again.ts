import { appendJournal, type Doer } from '../journal/index.ts';
import { enqueueDelivery } from '../outbox/index.ts';
import type { Tx } from '../platform/database/database.ts';
import { lockTicketOf } from '../quotes/index.ts';
import { type IssuedQuote, issuedPapers, waitingQuote } from './issued-papers.ts';

/** How often the link of one quote goes out to whoever asks without saying who they are. */
const ONCE_IN_MS = 60 * 60_000;

/**
 * Sends the mail of a quote that waits for its answer once more, to whoever answers it, if there is
 * an address of theirs; at most once an hour. Whoever asks has only the paper, so nothing tells them
 * whether a mail went out.
 *
 * Whoever asks at the same time waits on the row of the ticket, and then sees what was sent.
 */
export async function askLinkAgain(
  doer: Doer,
  { quoteId, contentHash }: { quoteId: string; contentHash: string },
): Promise<void> {
  const { tx, now } = doer;
  // Whoever presses it again and again makes nobody at the office wait.
  if (!(await hasAddress(tx, quoteId)) || (await wasJustAsked(tx, quoteId, now))) return;
  await lockTicketOf(tx, quoteId);
  // Read under the lock: it may have been answered, or asked for, in between.
  const quote = waitingQuote(await issuedPapers(tx, contentHash, now));
  if (quote === undefined || (await wasJustAsked(tx, quoteId, now))) return;
  await sendAgain(doer, quote);
}

async function hasAddress(tx: Tx, quoteId: string): Promise<boolean> {
  const { ticket } = await tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    select: { ticket: { select: { site: { select: { approver: person } } } } },
  });
  return Boolean(ticket.site.approver.email?.trim());
}

/** By anybody with a paper of the quote: another revision does not start the hour anew. */
async function wasJustAsked(tx: Tx, quoteId: string, now: Date): Promise<boolean> {
  const count = await tx.delivery.count({
    where: {
      ...{ cause: 'asked', askedById: null },
      createdAt: { gt: new Date(now.getTime() - ONCE_IN_MS) },
      paper: { revision: { quoteId } },
    },
  });
  return count > 0;
}

async function sendAgain(doer: Doer, { revisionId }: IssuedQuote): Promise<void> {
  const { id: paperId, ticket } = await doer.tx.paper.findUniqueOrThrow({
    where: { revisionId },
    select: { id: true, ticket: { select: { site: { select: { approver: person } } } } },
  });
  const customer = ticket.site.approver;
  if (!customer.email?.trim()) return;
  const sent = { paperId, channel: 'mail', recipient: 'approver' } as const;
  const id = await enqueueDelivery(doer, { ...sent, customer, cause: 'asked' });
  await appendJournal(doer, {
    event: 'delivery.asked',
    subject: { kind: 'delivery', id },
    after: { ...sent, customerId: customer.id, language: customer.language },
  });
}

const person = { select: { id: true, language: true, email: true } } as const;
