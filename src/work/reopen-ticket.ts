import type { z } from 'zod';
import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { versionTag } from '../platform/http/etag.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import {
  callbackDays,
  type LastClosing,
  lastClosing,
  lockTicket,
  moveTicket,
  ticketStateAfter,
} from '../tickets/index.ts';
import type { reopenTicketSchema } from './contract.ts';

/**
 * Reopens a closed ticket because the same trouble is back: from now on it is a callback, whose
 * visits have no fee. Counted in days of the company's calendar, so that the hour at which it was
 * closed, and a night when the clocks change, are nobody's loss.
 * @throws ProblemError 404, 409 unless it is closed and not longer than thirty days, 412 when
 *   somebody moved it first
 */
export async function reopenTicket(
  act: ActContext,
  ticketId: string,
  { complaint }: z.output<typeof reopenTicketSchema>,
): Promise<Ticket> {
  const ticket = await lockTicket(act, ticketId);
  act.mustMatch(versionTag(ticket.version));
  ticketStateAfter(ticket.state, 'reopen');
  const closing = await lastClosing(act.tx, ticketId);
  if (closing === undefined) throw new Error('a closed ticket has a closing');
  await refuseTooLate(act, closing);
  await act.tx.ticketCallback.create({
    data: {
      id: act.newId(),
      ticketId,
      closingId: closing.id,
      complaint,
      reopenedAt: act.now,
      reopenedById: act.actor.id,
    },
  });
  await appendJournal(act, {
    event: 'ticket.called_back',
    subject: { kind: 'ticket', id: ticketId },
    after: { closingId: closing.id },
  });
  return moveTicket(act, ticket, 'reopen');
}

async function refuseTooLate({ tx, now }: ActContext, { closedAt }: LastClosing): Promise<void> {
  const { timeZone } = await companyOf(tx);
  const lastDay = plusDays(localDay(closedAt, timeZone), callbackDays);
  if (localDay(now, timeZone) <= lastDay) return;
  throw new ProblemError(
    'not-allowed-now',
    `It was closed more than ${callbackDays} days ago. Open a new ticket.`,
    { currentState: 'closed', action: 'reopen', allowedActions: [], lastDay },
  );
}
