import type { z } from 'zod';
import { openInvoice } from '../invoices/index.ts';
import { appendJournal } from '../journal/index.ts';
import { publishPaper } from '../papers/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { notFound, ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import {
  type LastClosing,
  lastClosing,
  lockTicket,
  moveTicket,
  ticketRequests,
  ticketStateAfter,
  whyOnlyClosed,
} from '../tickets/index.ts';
import type { closeTicketSchema } from './contract.ts';
import { nameMissing } from './name-missing.ts';
import { recordWork } from './record-work.ts';
import { whatIsMissing } from './what-is-missing.ts';

type Closing = z.output<typeof closeTicketSchema>;

/**
 * Closes a ticket on which everything is on record, drafts its invoice, and keeps which repair did
 * not cure: what it cost is credited toward the right one once both are billed. Whoever answers, issues or records at the same moment waits on the
 * ticket's row, or has come first.
 * @throws ProblemError 404 for a ticket that is not theirs, 409 when it may not be closed from its
 *   state or something is not on record, naming all of it, 412 when somebody moved it first, 422 for a
 *   repair that cannot be one that did not cure
 */
export async function closeTicket(
  act: ActContext,
  ticketId: string,
  input: Closing,
): Promise<Ticket> {
  await requireOwn(act, ticketId);
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  ticketStateAfter(ticket.state, 'close');
  await refuseNothingToClose(act, ticket);
  const before = await lastClosing(act.tx, ticketId);
  await requireMended(act, ticketId, input.didNotCure);
  await refuseUnrecorded(act, ticketId, before, input);
  const closingId = await store(act, ticketId, before, input);
  await recordWork(act.tx, closingId);
  const of = { kind: 'work_record', closingId } as const;
  await publishPaper(act, { ticketId, number: ticket.number, of });
  const closed = await moveTicket(act, ticket, 'close');
  await openInvoice(act, { ticketId, closingId });
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

/** A ticket where nobody was is cancelled: there is nothing to say of how things were left. */
async function refuseNothingToClose({ tx }: ActContext, ticket: Ticket): Promise<void> {
  if (ticket.state !== 'new' || (await whyOnlyClosed(tx, ticket.id)) !== undefined) return;
  throw new ProblemError('not-allowed-now', 'Nobody was there yet. Cancel the ticket instead.', {
    currentState: ticket.state,
    action: 'close',
    allowedActions: ticketRequests(ticket.state).filter((each) => each !== 'close'),
  });
}

async function refuseUnrecorded(
  { tx, now }: ActContext,
  ticketId: string,
  closing: LastClosing | undefined,
  { noReadingsWhy }: Closing,
): Promise<void> {
  const saysWhyNoReadings = noReadingsWhy !== undefined;
  const missing = await whatIsMissing(tx, ticketId, { closing, saysWhyNoReadings, now });
  const [first, ...rest] = await nameMissing(tx, missing);
  if (first === undefined) return;
  const more = rest.length === 0 ? '' : ` And ${rest.length} more: see \`missing\`.`;
  throw new ProblemError('work-not-recorded', `${first.say}${more}`, { missing: [first, ...rest] });
}

/**
 * Only what was mended on the ticket can have failed to cure.
 * @throws ProblemError 422 for other findings
 */
async function requireMended(
  { tx }: ActContext,
  ticketId: string,
  findingIds: readonly string[],
): Promise<void> {
  const done = await tx.workOutcome.findMany({
    where: {
      findingId: { in: [...findingIds] },
      outcome: 'done',
      visit: { ticketId },
      strike: null,
    },
    select: { findingId: true },
  });
  const mended = new Set(done.map(({ findingId }) => findingId));
  const stranger = findingIds.findIndex((id) => !mended.has(id));
  if (stranger === -1) return;
  throw unknownReference(
    `/didNotCure/${stranger}`,
    'No work was done for this finding on this ticket.',
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
      uncured: { create: [...new Set(didNotCure)].map((findingId) => ({ findingId })) },
    },
  });
  await appendJournal(act, {
    event: 'ticket.closed',
    subject: { kind: 'ticket', id: ticketId },
    after: { closingId: closing.id, sequence, complaintGone, didNotCure },
  });
  return closing.id;
}
