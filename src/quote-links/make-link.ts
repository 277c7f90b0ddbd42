import type { z } from 'zod';
import { companyOf } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import type { QuoteState } from '../lifecycles/index.ts';
import { hashOfToken, newToken } from '../platform/access/token.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicketOf } from '../quotes/index.ts';
import { answerLink } from './answer-links.ts';
import type { holderSchema, madeLinkSchema } from './contract.ts';
import { draftText } from './draft-text.ts';
import {
  daysAfter,
  type LinkWithFacts,
  OPENS_FOR_DAYS,
  openFacts,
  openUntil,
} from './open-until.ts';
import { requireOwnQuote } from './require-own-quote.ts';
import { journalRevoked } from './revoke-link.ts';

type Holder = z.output<typeof holderSchema>;

/**
 * Makes the link at which a customer reads and answers an issued quote, or finds the receipt of an
 * answered one, and makes the one worthless that the same person had before. Whoever answers or
 * issues waits on the same ticket.
 * @returns the link with its address, which is known from here alone
 * @throws ProblemError 404 for an unknown quote or one of another technician, 403 for a payer's link
 *   that a technician asks for, 409 for a draft and for what was withdrawn
 */
export async function makeLink(
  act: ActContext,
  quoteId: string,
  holder: Holder,
): Promise<z.input<typeof madeLinkSchema>> {
  await requireOwnQuote(act.tx, act.actor, quoteId);
  requireMaker(act, holder);
  await lockTicketOf(act.tx, quoteId);
  await requireShowable(act, quoteId);
  const place = { quoteId, holder, holderId: await holderOf(act, quoteId, holder) };
  await revokeReplaced(act, place);
  const token = newToken();
  const link = await act.tx.quoteLink.create({
    data: {
      id: act.newId(),
      ...place,
      tokenHash: hashOfToken(token),
      createdAt: act.now,
      createdById: act.actor.id,
      expiresAt: daysAfter(act.now, OPENS_FOR_DAYS),
    },
    include: openFacts,
  });
  await appendJournal(act, {
    event: 'quote_link.made',
    subject: { kind: 'quote_link', id: link.id },
    after: { ...place, expiresAt: openUntil(link) },
  });
  const url = act.addressOf(`/q/${token}`);
  return { ...(await answerLink(act.tx, link)), url, text: await textWith(act, link, url) };
}

/** What goes with the address into a messenger, in the language of whoever reads it. */
async function textWith(
  { tx }: ActContext,
  { holderPerson, quote }: LinkWithFacts,
  url: string,
): Promise<string> {
  return draftText({
    language: holderPerson.language === 'es' ? 'es' : 'en',
    companyName: (await companyOf(tx)).name,
    quoteNumber: String(quote.number),
    url,
  });
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

/**
 * The one that staff made before for the same person is worth nothing any more, and the journal says
 * so. Those in mails are nobody's to see but the reader's, and stay; whoever had the place before
 * keeps theirs: at it they take back a yes they gave, and answer nothing else.
 */
async function revokeReplaced(
  act: ActContext,
  place: { quoteId: string; holder: Holder; holderId: string },
): Promise<void> {
  const replaced = await act.tx.quoteLink.updateManyAndReturn({
    where: { ...place, revokedAt: null, deliveryId: null },
    data: { revokedAt: act.now },
  });
  for (const link of replaced) await journalRevoked(act, link);
}

/**
 * A payer's link says yes to any amount, and whoever makes a link can open it. A technician on site
 * needs the approver's, to hand over a device or to send it; the payer's comes from the office.
 */
function requireMaker({ actor }: ActContext, holder: Holder): void {
  if (holder === 'approver' || actor.role !== 'technician') return;
  throw new ProblemError('forbidden', 'The office makes the link for whoever pays. Call them.', {
    role: actor.role,
    allowedRoles: ['dispatcher', 'owner'],
  });
}

async function holderOf({ tx }: ActContext, quoteId: string, holder: Holder): Promise<string> {
  const { ticket } = await tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    select: { ticket: { select: { site: { select: { approverId: true, payerId: true } } } } },
  });
  return holder === 'payer' ? ticket.site.payerId : ticket.site.approverId;
}
