import type { z } from 'zod';
import { creditUncured, openInvoice } from '../invoices/index.ts';
import { appendJournal } from '../journal/index.ts';
import { ticketLifecycle } from '../lifecycles/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import { notFound, ProblemError, unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { type LastClosing, lastClosing, lockTicket, moveTicket } from '../tickets/index.ts';
import type { closeTicketSchema } from './contract.ts';
import { isSince } from './lock-work.ts';
import { whatIsMissing } from './what-is-missing.ts';

type Closing = z.output<typeof closeTicketSchema>;

/**
 * Closes a ticket on which everything is on record, drafts its invoice, and credits what an earlier
 * repair cost that did not cure. Whoever answers, issues or records at the same moment waits on the
 * ticket's row, or has come first.
 * @throws ProblemError 404 for a ticket that is not theirs, 409 when it may not be closed from its
 *   state or something is not on record, naming all of it, 412 when somebody moved it first, 400 and
 *   422 for a repair that cannot be one that did not cure
 */
export async function closeTicket(
  act: ActContext,
  ticketId: string,
  input: Closing,
): Promise<Ticket> {
  await requireOwn(act, ticketId);
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  moveOrRefuse('ticket', ticketLifecycle, ticket.state, 'close');
  const before = await lastClosing(act.tx, ticketId);
  await requireWorkBefore(act, ticketId, before, input.didNotCure);
  await refuseUnrecorded(act, ticketId, before, input);
  const closingId = await store(act, ticketId, before, input);
  const closed = await moveTicket(act, ticket, 'close');
  await openInvoice(act, { ticketId, closingId });
  if (input.didNotCure.length > 0) {
    await creditUncured(act, { ticketId, findingIds: input.didNotCure });
  }
  return closed;
}

/** A technician closes tickets with a visit of theirs; others do not exist for them. */
async function requireOwn({ tx, actor }: ActContext, ticketId: string): Promise<void> {
  if (actor.role !== 'technician') return;
  const visit = await tx.visit.findFirst({
    where: { ticketId, technicianId: actor.id, state: { not: 'cancelled' } },
    select: { id: true },
  });
  if (visit === null) throw notFound('ticket');
}

async function refuseUnrecorded(
  { tx, now }: ActContext,
  ticketId: string,
  closing: LastClosing | undefined,
  { noReadingsWhy }: Closing,
): Promise<void> {
  const saysWhyNoReadings = noReadingsWhy !== undefined;
  const missing = await whatIsMissing(tx, ticketId, { closing, saysWhyNoReadings, now });
  if (missing.length === 0) return;
  throw new ProblemError('work-not-recorded', 'The ticket is not closed: not all is on record.', {
    missing,
  });
}

/**
 * Only what was done before the ticket was reopened can have failed to cure.
 * @throws ProblemError 400 on a ticket that was not reopened, 409 while the earlier invoice is a
 *   draft, 422 for other findings
 */
async function requireWorkBefore(
  act: ActContext,
  ticketId: string,
  closing: LastClosing | undefined,
  findingIds: readonly string[],
): Promise<void> {
  if (findingIds.length === 0) return;
  if (closing === undefined) {
    throw wrongField('/didNotCure', 'not_reopened', 'is for a ticket that was reopened');
  }
  const done = await act.tx.workOutcome.findMany({
    where: { findingId: { in: [...findingIds] }, outcome: 'done', visit: { ticketId } },
    select: { findingId: true, visitId: true, quoteId: true },
  });
  const before = done.filter(({ visitId }) => !isSince({ id: visitId }, closing));
  for (const [at, findingId] of findingIds.entries()) {
    if (before.some((each) => each.findingId === findingId)) continue;
    throw unknownReference(
      `/didNotCure/${at}`,
      'Nothing was done for this finding before the ticket was reopened.',
    );
  }
  await refuseUnbilled(
    act,
    before.map(({ quoteId }) => quoteId),
  );
}

/** What is not billed yet cannot be credited, and would be forgotten once it is. */
async function refuseUnbilled({ tx }: ActContext, quoteIds: readonly string[]): Promise<void> {
  const billed = await tx.invoiceDocument.findMany({
    where: { quoteId: { in: [...quoteIds] } },
    select: { quoteId: true },
  });
  if (quoteIds.every((id) => billed.some(({ quoteId }) => quoteId === id))) return;
  throw new ProblemError(
    'not-allowed-now',
    'The invoice of the earlier repair is still a draft. Issue it first, so that it can be credited.',
    { action: 'close', allowedActions: [] },
  );
}

async function store(
  act: ActContext,
  ticketId: string,
  before: LastClosing | undefined,
  input: Closing,
): Promise<string> {
  const { complaintGone, didNotCure } = input;
  const sequence = (before?.sequence ?? 0) + 1;
  const closing = await act.tx.ticketClosing.create({
    data: {
      id: act.newId(),
      ticketId,
      sequence,
      complaintGone,
      noReadingsWhy: input.noReadingsWhy ?? null,
      conditionLeft: input.conditionLeft,
      dangerWarned: input.dangerWarned ?? null,
      closedAt: act.now,
      closedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'ticket.closed',
    subject: { kind: 'ticket', id: ticketId },
    after: { closingId: closing.id, sequence, complaintGone, didNotCure },
  });
  return closing.id;
}
