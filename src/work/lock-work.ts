import type { Ticket, Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lastClosing, lockTicket } from '../tickets/index.ts';
import { visitOf } from '../visits/index.ts';

/** A visit at which somebody is or was on site. */
export type VisitAtWork = Visit & { arrivedAt: Date };

/** The visit at which work is recorded, with its ticket; both locked. */
export interface WorkPlace {
  visit: VisitAtWork;
  ticket: Ticket;
}

/**
 * Locks the ticket and the visit at which work is being recorded until the transaction ends: who
 * closes the ticket, or cancels the yes, at the same moment waits, or has come first.
 * @throws ProblemError 404 for a visit that is not theirs; 409 unless somebody is or was on site,
 *   the ticket is open, and it has not been closed since that visit
 */
export async function lockWork(act: ActContext, visitId: string): Promise<WorkPlace> {
  const { ticketId } = await visitOf(act.tx, act, visitId);
  const ticket = await lockTicket(act, ticketId);
  await lockRow(act.tx, 'visit', visitId);
  const visit = await visitOf(act.tx, act, visitId);
  const { arrivedAt, state } = visit;
  if ((state !== 'on_site' && state !== 'finished') || arrivedAt === null) {
    throw notNow(`Work is done on site; this visit is ${state.replaceAll('_', ' ')}.`, state);
  }
  if (ticket.state === 'closed' || ticket.state === 'cancelled') {
    throw notNow(`The ticket is ${ticket.state}.`, ticket.state);
  }
  const closing = await lastClosing(act.tx, ticketId);
  if (closing !== undefined && !isSince(visit, closing)) {
    throw notNow('The ticket was closed since that visit. Record it at the callback.', state);
  }
  return { visit: { ...visit, arrivedAt }, ticket };
}

/**
 * Whether a visit was booked after a closing. Identifiers are in the order of time, also within one
 * instant of the clock.
 */
export function isSince(visit: { id: string }, closing: { id: string } | undefined): boolean {
  return closing === undefined || visit.id > closing.id;
}

function notNow(detail: string, currentState: string): ProblemError {
  return new ProblemError('not-allowed-now', detail, { currentState, allowedActions: [] });
}
