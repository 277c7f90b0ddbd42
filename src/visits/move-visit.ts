import { appendJournal } from '../journal/index.ts';
import { type TicketAction, type VisitAction, visitLifecycle } from '../lifecycles/index.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import { versionTag } from '../platform/http/etag.ts';
import { moveOrRefuse } from '../platform/http/move-or-refuse.ts';
import { notFound } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { ownVisits } from '../staff/index.ts';
import { lockTicket, moveTicket, requireNoOpenDanger } from '../tickets/index.ts';
import { daysOf, holdDays } from './hold-days.ts';
import { joinTrips } from './join-trips.ts';
import { refuseSomethingSeen } from './refuse-something-seen.ts';
import { refuseTripWithoutFee } from './refuse-trip-without-fee.ts';

/** A step of a visit, and what it means for its ticket. */
export interface VisitStep {
  action: VisitAction;
  ticketAction?: TicketAction;
  /** Why, for steps that need a reason; kept with the visit. */
  reason?: string;
}

/**
 * Takes a visit one step along its life, and its ticket with it.
 * @throws ProblemError 404, 409 when the step is not allowed, somebody was let in after all, a trip
 *   would be made without its fee or into a danger that is not over, 412 when somebody moved it first
 */
export async function moveVisit(act: ActContext, id: string, step: VisitStep): Promise<Visit> {
  const found = await act.tx.visit.findUnique({
    where: { id, AND: ownVisits(act.actor) },
    include: { ticket: { select: { siteId: true } } },
  });
  if (found === null) throw notFound('visit');
  const days = step.action === 'cancel' ? await holdDays(act.tx, daysOf(found)) : undefined;
  // Ticket before visit, as booking does: the same order everywhere, or two steps could deadlock.
  const ticket = await lockTicket(act, found.ticketId);
  await lockRow(act.tx, 'visit', id);
  const visit = await act.tx.visit.findUniqueOrThrow({ where: { id } });
  act.mustMatch(versionTag(visit.version));
  const state = moveOrRefuse('visit', visitLifecycle, visit.state, step.action);
  if (step.action === 'start_travel') await requireNoOpenDanger(act, ticket, step.action);
  if (step.action === 'report_no_access') await refuseSomethingSeen(act, visit);
  await refuseTripWithoutFee(act, visit, step.action);
  if (step.ticketAction !== undefined) {
    await moveTicket(act, ticket, step.ticketAction);
  }
  const moved = await act.tx.visit.update({
    where: { id },
    data: {
      state,
      version: visit.version + 1,
      ...(step.action === 'arrive' && { arrivedAt: act.now }),
      // Whoever was not let in may never have said that they arrived.
      ...(leavesBy[step.action] && visit.arrivedAt !== null && { leftAt: act.now }),
      ...(step.reason !== undefined && { endNote: step.reason }),
    },
  });
  await appendJournal(act, {
    event: 'visit.moved',
    subject: { kind: 'visit', id },
    before: { state: visit.state },
    after: { state },
  });
  // Who is no longer elsewhere in between may be at one place on one trip.
  if (days !== undefined) await joinTrips(act, days);
  return moved;
}

/** The steps with which whoever is there leaves. */
const leavesBy: Partial<Record<VisitAction, true>> = { finish: true, report_no_access: true };
