import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { bookWithAnother } from './book-with-another.ts';
import { cancelForMove } from './cancel-for-move.ts';
import { type HeldDays, requireHeld } from './hold-days.ts';
import { plannedOf } from './planned-columns.ts';
import { isTakenAt } from './refuse-taken.ts';

/** A visit that goes along with the one whose fee it rests on, with the number of its ticket. */
export type GoesAlong = Visit & { ticket: { number: number; siteId: string } };

/**
 * Cancels the visits that rest on the fee of a locked one and are still to be made, so that others
 * take their places: where the whole trip is given to another technician they go along.
 * @throws an error that has the transaction run again where one of them is not held
 */
export async function cancelAlong(
  act: ActContext,
  days: HeldDays,
  withFee: Visit,
  reason: string,
): Promise<GoesAlong[]> {
  const where = {
    sameTripAs: withFee.id,
    state: { in: ['booked' as const, 'on_the_way' as const] },
  };
  const include = { ticket: { select: { number: true, siteId: true } } };
  const found = await act.tx.visit.findMany({ where, orderBy: { id: 'asc' } });
  requireHeld(days, found);
  for (const { id } of found) await lockRow(act.tx, 'visit', id);
  const along = await act.tx.visit.findMany({ where, include, orderBy: { id: 'asc' } });
  for (const visit of along) await cancelForMove(act, visit, reason);
  return along;
}

/**
 * Books in place of each the same visit with the technician of the trip.
 * @param withFee the visit that was booked in place of the one with the fee
 * @throws ProblemError 409 when the technician has other work at the time of one of them
 */
export async function bookAlong(
  act: ActContext,
  along: readonly GoesAlong[],
  withFee: Visit,
  askedBy: 'customer' | 'company',
): Promise<Visit[]> {
  const booked: Visit[] = [];
  for (const { ticket, ...visit } of along) {
    const { technicianId } = withFee;
    const { plannedStart, plannedEnd } = visit;
    if (await isTakenAt(act, technicianId, plannedOf(visit))) throw alongTaken(ticket.number);
    const { siteId } = ticket;
    const given = { visit, siteId, technicianId, plannedStart, plannedEnd, askedBy, withFee };
    booked.push(await bookWithAnother(act, given));
  }
  return booked;
}

function alongTaken(ticketNumber: number): ProblemError {
  return new ProblemError(
    'window-taken',
    `The technician has other work at the time of ticket ${ticketNumber}, which is on this trip and goes along.`,
  );
}
