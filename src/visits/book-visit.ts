import type { z } from 'zod';
import type { Visit } from '../platform/database/generated/client.ts';
import { unknownReference, wrongField } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireTechnician } from '../staff/index.ts';
import { lockTicket, moveTicket, requireNoOpenDanger, ticketStateAfter } from '../tickets/index.ts';
import type { newVisitSchema } from './contract.ts';
import { booksOf, feeTerms, refuseUntold } from './fee-terms.ts';
import { holdDays } from './hold-days.ts';
import { joinTrips } from './join-trips.ts';
import { plannedColumns } from './planned-columns.ts';
import { refusePurpose } from './refuse-purpose.ts';
import { refuseTaken } from './refuse-taken.ts';
import { writeVisit } from './write-visit.ts';

/**
 * Books a technician into an arrival window. The database, not this code, decides who wins when
 * two want the same time: an exclusion constraint on technician and planned work.
 * @throws ProblemError 400 for a window that is over; 409 when the technician is taken, the fee told
 *   is not the fee of that window or not what the site's agreement leaves of it, the ticket cannot
 *   be booked, not for that purpose, or is in danger; 422 for an unknown ticket or technician
 */
export async function bookVisit(
  act: ActContext,
  input: z.output<typeof newVisitSchema>,
): Promise<Visit> {
  const { ticketId, technicianId, purpose, feeDisclosure } = input;
  const windowStart = new Date(input.windowStart);
  const windowEnd = new Date(input.windowEnd);
  if (windowEnd <= act.now) {
    throw wrongField('/windowEnd', 'window_over', 'must be in the future');
  }
  const known = await act.tx.ticket.findUnique({ where: { id: ticketId } });
  if (known === null) throw unknownReference('/ticketId', 'There is no such ticket.');
  const { siteId } = known;
  const span = { technicianIds: [technicianId], from: windowStart, to: windowEnd };
  const days = await holdDays(act.tx, { ...span, ticketIds: [ticketId], siteIds: [siteId] });
  const ticket = await lockTicket(act, ticketId);
  // Before anything is said of the window: no other window helps a ticket that cannot be booked.
  ticketStateAfter(ticket.state, 'book');
  await requireNoOpenDanger(act, ticket, 'book');
  await requireTechnician(act, technicianId);
  await refusePurpose(act, ticket, purpose);
  const planned = input.planned && plannedColumns(input.planned);
  const work = planned ?? { plannedStart: windowStart, plannedEnd: windowEnd };
  await refuseTaken(act, technicianId, work);
  const trip = { ...{ siteId, technicianId, windowStart, windowEnd, purpose }, ...work };
  const terms = await feeTerms(booksOf(act), trip, 'book');
  refuseUntold(terms, feeDisclosure);
  await moveTicket(act, ticket, 'book');
  const { id } = await writeVisit(act, {
    ...{ ticketId, technicianId, windowStart, windowEnd, purpose, terms },
    ...(planned && { planned }),
    feeAgreedBy: feeDisclosure.agreedBy,
    feeAgreedAt: act.now,
  });
  // It may go on from two visits that had nothing to do with each other.
  await joinTrips(act, days);
  return act.tx.visit.findUniqueOrThrow({ where: { id } });
}
