import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { cancelUntilOf } from '../consumer-rules/index.ts';
import { refuseOutdated } from '../evidence/index.ts';
import { appendJournal } from '../journal/index.ts';
import { publishPaper } from '../papers/index.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import { pricingInputsSchema } from '../pricing/index.ts';
import { acceptedBeforeCents } from './accepted-before.ts';
import { type AnswerContext, witnessOf } from './answer-context.ts';
import type { acceptanceRequestSchema } from './contract.ts';
import { findingIdsOf, findingsOf } from './findings-of.ts';
import { lockQuote, moveRevision, supersedeDrafts } from './lock-quote.ts';
import { promisedRights } from './promised-rights.ts';
import { refuseChangedTerms } from './refuse-changed-terms.ts';
import { refuseCheaperToday } from './refuse-cheaper-today.ts';
import { refuseSecondOfVisit } from './refuse-second-quote.ts';
import { refuseSoldWork } from './refuse-sold-work.ts';
import { requireCurrentVisit } from './require-current-visit.ts';
import { requireOpenTicket } from './require-open-ticket.ts';
import { requireStandingParent } from './require-standing-parent.ts';
import { standingRevision } from './standing-revision.ts';

type Acceptance = z.output<typeof acceptanceRequestSchema>;

/**
 * Records the written yes to one option. It binds what was shown: the total and the content hash
 * must be those of the revision that stands. Two answers that arrive together wait for each other
 * on the quote's lock, and the database keeps a single acceptance per quote.
 * @throws ProblemError 409 when nothing stands, it has expired, it would cost less today or the
 *   approver may not agree to as much, 412 when what was shown is not what stands, 422 for an option
 *   of another revision or one that the evidence carries no more
 */
export async function acceptQuote(
  act: AnswerContext,
  quoteId: string,
  input: Acceptance,
): Promise<void> {
  const revisions = await lockQuote(act, quoteId);
  const quote = await answeredQuote(act, quoteId);
  requireOpenTicket(quote.ticket);
  await requireCurrentVisit(act.tx, quote);
  const standing = standingRevision(revisions, 'accept', act.now);
  const option = await act.tx.quoteOption.findFirst({
    where: { id: input.optionId, revision: { quoteId, number: standing.revision } },
    include: { revision: true },
  });
  if (standing.contentHash !== input.shownContentHash) throw shownIsNot('content hash');
  if (option === null) {
    throw unknownReference('/optionId', 'The revision that stands has no such option.');
  }
  if (option.totalCents !== input.shownTotalCents) throw shownIsNot('total');
  await refuseSecondOfVisit(act, quoteId);
  await requireStandingParent(act.tx, quote);
  // What is sold on the other tickets of the site, and its agreements, hold still from here on.
  await lockRow(act.tx, 'site', quote.ticket.site.id);
  await refuseOvertaken(act, quote, option);
  await refuseAboveLimit(act, quote, option.totalCents, input);
  await act.tx.quoteAcceptance.create({
    data: {
      quoteId,
      revision: standing.revision,
      optionId: option.id,
      totalCents: option.totalCents,
      contentHash: input.shownContentHash,
      acceptedByName: input.acceptedByName,
      consentText: input.consentText,
      beyondLimitAgreedBy: input.beyondLimitAgreedBy ?? null,
      acceptedAt: act.now,
      ...witnessOf(act),
      language: input.language,
      cancelUntil: await cancelUntil(act, quote, option),
      address: act.origin.address,
      userAgent: act.origin.userAgent ?? null,
    },
  });
  await moveRevision(act.tx, quoteId, standing, 'accept', act.now);
  await supersedeDrafts(act, quoteId, revisions);
  const of = { kind: 'acceptance', acceptanceOf: quoteId } as const;
  await publishPaper(act, { ticketId: quote.ticketId, number: quote.number, of });
  await appendJournal(act, {
    event: 'quote.accepted',
    subject: { kind: 'quote', id: quoteId },
    after: {
      revision: standing.revision,
      optionId: option.id,
      totalCents: option.totalCents,
      contentHash: input.shownContentHash,
    },
  });
}

type Answered = Awaited<ReturnType<typeof answeredQuote>>;

async function answeredQuote({ tx }: AnswerContext, quoteId: string) {
  return tx.quote.findUniqueOrThrow({
    where: { id: quoteId },
    include: { visit: true, ticket: { select: { state: true, site: true } } },
  });
}

type Chosen = Prisma.QuoteOptionGetPayload<{ include: { revision: true } }>;

/**
 * What was accepted or done meanwhile may have sold this work already, or changed its price; what
 * was recorded may speak against it, or make it cheaper.
 */
async function refuseOvertaken(
  { tx, now }: AnswerContext,
  { id: quoteId, parentId, visit, ticket }: Answered,
  { position, totalCents, revision }: Chosen,
): Promise<void> {
  const place = { quoteId, parentId, visit };
  const inputs = pricingInputsSchema.parse(revision.inputs);
  const options = inputs.options.slice(position - 1, position);
  await refuseSoldWork(tx, place, findingIdsOf(options));
  await refuseOutdated(tx, await findingsOf(tx, { ...inputs, options }));
  const { timeZone } = await companyOf(tx);
  const today = localDay(now, timeZone);
  await refuseChangedTerms(tx, place, inputs, today);
  const agreed = { ...visit, ticket: { siteId: ticket.site.id } };
  const chosen = { visit: agreed, revision, inputs, position, totalCents };
  await refuseCheaperToday(tx, chosen, today, now);
}

/** Until when this yes may be taken back, by what its paper promises and by the rules of the place. */
async function cancelUntil(
  { tx, now }: AnswerContext,
  { id, ticket }: Answered,
  { totalCents, revision }: Chosen,
): Promise<Date | null> {
  const { timeZone } = await companyOf(tx);
  const { jurisdiction } = ticket.site;
  const promised = await promisedRights(tx, id, revision.number);
  return cancelUntilOf(tx, { jurisdiction, totalCents, acceptedAt: now, timeZone, promised });
}

/**
 * The limit is one of the whole job: everything that is agreed to on its ticket counts together, or
 * it could be sold above the limit in pieces below it. It binds whoever decides about another's
 * money; who pays needs nobody beyond them, and so an approver who pays has no limit.
 */
async function refuseAboveLimit(
  act: AnswerContext,
  quote: Answered,
  optionTotalCents: number,
  { beyondLimitAgreedBy }: Acceptance,
): Promise<void> {
  // Read under the site's lock: whoever pays may have become another one meanwhile.
  const site = await act.tx.site.findUniqueOrThrow({ where: { id: quote.ticket.site.id } });
  const { approverLimitCents } = site;
  if (approverLimitCents === null || site.payerId === site.approverId) return;
  const totalCents = optionTotalCents + (await acceptedBeforeCents(act.tx, quote));
  if (totalCents <= approverLimitCents) return;
  const isAgreed =
    act.actor.kind === 'staff'
      ? beyondLimitAgreedBy !== undefined
      : act.actor.holderId === site.payerId;
  if (isAgreed) return;
  throw new ProblemError(
    'above-approval-limit',
    'The total is above the limit of the site’s approver. Name who agreed beyond it.',
    { approverLimitCents, totalCents },
  );
}

function shownIsNot(what: string): ProblemError {
  return new ProblemError(
    'shown-content-changed',
    `The ${what} that was shown is not the one that stands. Show the quote again.`,
  );
}
