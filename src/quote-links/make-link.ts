import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import type { QuoteState } from '../lifecycles/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { answerLink } from './answer-link.ts';
import type { holderSchema, madeLinkSchema } from './contract.ts';
import { hashOfToken, newToken } from './link-token.ts';
import { daysAfter, OPENS_FOR_DAYS, openFacts, openUntil } from './open-until.ts';
import { requireOwnQuote } from './require-own-quote.ts';

type Holder = z.output<typeof holderSchema>;

/**
 * Makes the link at which a customer reads and answers an issued quote, or finds the receipt of an
 * answered one, and makes the one worthless that the same holder had before. Whoever answers or
 * issues waits on the same ticket.
 * @returns the link with its address, which is known from here alone
 * @throws ProblemError 404 for an unknown quote or one of another technician, 409 for a draft and
 *   for what was withdrawn
 */
export async function makeLink(
  act: ActContext,
  quoteId: string,
  holder: Holder,
): Promise<z.input<typeof madeLinkSchema>> {
  await requireOwnQuote(act.tx, act.actor, quoteId, 'quote');
  await sqlOf(act.tx).query(LOCK, [quoteId]);
  await requireShowable(act, quoteId);
  await act.tx.quoteLink.updateMany({
    where: { quoteId, holder, revokedAt: null },
    data: { revokedAt: act.now },
  });
  const token = newToken();
  const link = await act.tx.quoteLink.create({
    data: {
      id: act.newId(),
      quoteId,
      tokenHash: hashOfToken(token),
      holder,
      holderName: await nameOf(act, quoteId, holder),
      createdAt: act.now,
      createdById: act.actor.id,
      expiresAt: daysAfter(act.now, OPENS_FOR_DAYS),
    },
    include: openFacts,
  });
  await appendJournal(act, {
    event: 'quote_link.made',
    subject: { kind: 'quote_link', id: link.id },
    after: { quoteId, holder, expiresAt: openUntil(link) },
  });
  return { ...answerLink(link), url: act.addressOf(`/q/${token}`) };
}

/** A quote that waits for its answer, or has it: then the page is the receipt. */
async function requireShowable({ tx }: ActContext, quoteId: string): Promise<void> {
  const states = await tx.quoteState.findMany({
    where: { quoteId },
    orderBy: { revision: 'asc' },
  });
  if (states.some(({ state }) => SHOWN.includes(state))) return;
  throw new ProblemError('not-allowed-now', 'Only an issued quote has a page for the customer.', {
    currentState: states.at(-1)?.state,
    allowedActions: [],
  });
}

const SHOWN: readonly QuoteState[] = ['issued', 'accepted', 'declined'];

async function nameOf({ tx }: ActContext, quoteId: string, holder: Holder): Promise<string> {
  const { ticket } = await tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    select: {
      ticket: { select: { site: { select: { approver: true, payer: true } } } },
    },
  });
  return ticket.site[holder].name;
}

const LOCK = `
  SELECT 1 FROM ticket WHERE id = (SELECT ticket_id FROM quote WHERE id = $1) FOR NO KEY UPDATE`;
