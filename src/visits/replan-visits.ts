import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireTechnician } from '../staff/index.ts';
import { bookWithAnother } from './book-with-another.ts';
import { cancelForMove, requireMovable } from './cancel-for-move.ts';
import { type DaysToHold, daysOf, type HeldDays, holdDays } from './hold-days.ts';
import { joinTrips } from './join-trips.ts';
import type { PlannedColumns } from './planned-columns.ts';
import { takenOrThrow } from './taken-or-throw.ts';

/** When a booked visit is to be worked at, and by whom. */
export interface Replanned extends PlannedColumns {
  visitId: string;
  technicianId: string;
}

/** Visits that are held, with the days around them. */
export interface HeldVisits {
  visits: readonly Visit[];
  /** Undefined where there is no visit. */
  days: HeldDays | undefined;
}

/**
 * Holds some visits with their tickets and technicians, in the order in which everybody waits:
 * tickets, technicians, visits, each by identifier.
 */
export async function holdVisits(
  act: ActContext,
  works: readonly Replanned[],
): Promise<HeldVisits> {
  const where = { id: { in: works.map(({ visitId }) => visitId) } };
  const include = { ticket: { select: { siteId: true } } };
  const found = await act.tx.visit.findMany({ where, include });
  if (found.length === 0) return { visits: [], days: undefined };
  const days = await holdDays(act.tx, daysOfAll(found.map(daysOf), works));
  for (const id of found.map((visit) => visit.id).sort()) await lockRow(act.tx, 'visit', id);
  return { visits: await act.tx.visit.findMany({ where, orderBy: { id: 'asc' } }), days };
}

function daysOfAll(days: readonly DaysToHold[], works: readonly Replanned[]): DaysToHold {
  const technicianIds = works.map(({ technicianId }) => technicianId);
  return {
    ticketIds: days.flatMap(({ ticketIds }) => ticketIds),
    siteIds: days.flatMap(({ siteIds }) => siteIds),
    technicianIds: [...days.flatMap((each) => each.technicianIds), ...technicianIds],
    from: new Date(Math.min(...days.map(({ from }) => from.getTime()))),
    to: new Date(Math.max(...days.map(({ to }) => to.getTime()))),
  };
}

/**
 * Plans many held visits anew inside their promised windows, all or none: in place where the
 * technician stays, and booked anew with the same fee where another one comes. Whoever goes makes
 * room first, then those who stay change places, then the new ones are booked. A trip that is given
 * away whole keeps its one fee; where two become one, the later visit loses its own.
 * @param held by `holdVisits`
 * @throws ProblemError 409 where one has begun, others rest on its fee and stay, or a technician has
 *   other work at that time
 */
export async function replanVisits(
  act: ActContext,
  { visits, days }: HeldVisits,
  works: readonly Replanned[],
  reason: string,
): Promise<Visit[]> {
  const workOf = new Map(works.map((work) => [work.visitId, work]));
  const both = visits.flatMap((visit) => {
    const work = workOf.get(visit.id);
    return work === undefined ? [] : [{ visit, work }];
  });
  const going = both.filter(({ visit, work }) => visit.technicianId !== work.technicianId);
  // Whoever rests on the fee of another goes first, so that the other may go too.
  for (const { visit, work } of going.toSorted(byTrip).reverse()) {
    await requireMovable(act, visit, 'rebook');
    await requireTechnician(act, work.technicianId);
    await cancelForMove(act, visit, reason);
  }
  await shift(
    act,
    both.filter(({ visit, work }) => visit.technicianId === work.technicianId),
  );
  const booked = await bookGoing(act, going.toSorted(byTrip));
  if (days !== undefined) await joinTrips(act, days);
  const where = { id: { in: booked.map(({ id }) => id) } };
  return act.tx.visit.findMany({ where, orderBy: { id: 'asc' } });
}

interface Both {
  visit: Visit;
  work: Replanned;
}

/** Those with a fee first, each in the order of their work. */
function byTrip(one: Both, other: Both): number {
  const rests = ({ visit }: Both) => (visit.sameTripAs === null ? 0 : 1);
  const start = ({ work }: Both) => work.plannedStart.getTime();
  return rests(one) - rests(other) || start(one) - start(other);
}

async function bookGoing(act: ActContext, going: readonly Both[]): Promise<Visit[]> {
  const inPlaceOf = new Map<string, Visit>();
  for (const { visit, work } of going) {
    const { technicianId, plannedStart, plannedEnd } = work;
    const { siteId } = await act.tx.ticket.findUniqueOrThrow({ where: { id: visit.ticketId } });
    const placed = inPlaceOf.get(visit.sameTripAs ?? '');
    const withFee = placed?.technicianId === technicianId ? placed : undefined;
    const given = { visit, siteId, technicianId, plannedStart, plannedEnd, withFee };
    inPlaceOf.set(visit.id, await bookWithAnother(act, { ...given, askedBy: 'company' }));
  }
  return [...inPlaceOf.values()];
}

async function shift(act: ActContext, staying: readonly Both[]): Promise<void> {
  const works = staying.map(({ work }) => work);
  await sqlOf(act.tx)
    .query(SHIFT, [
      works.map(({ visitId }) => visitId),
      works.map(({ plannedStart }) => plannedStart),
      works.map(({ plannedEnd }) => plannedEnd),
    ])
    .catch(takenOrThrow);
  for (const { visit, work } of staying) {
    const { plannedStart, plannedEnd } = visit;
    await appendJournal(act, {
      event: 'visit.planned',
      subject: { kind: 'visit', id: visit.id },
      before: { plannedStart, plannedEnd },
      after: { plannedStart: work.plannedStart, plannedEnd: work.plannedEnd },
    });
  }
}

// In one statement, so that two may change places.
const SHIFT = `
  UPDATE visit v SET planned_start = p.starts, planned_end = p.ends, version = v.version + 1
  FROM unnest($1::uuid[], $2::timestamptz[], $3::timestamptz[]) AS p (id, starts, ends)
  WHERE v.id = p.id`;
