import { appendJournal } from '../journal/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { Visit } from '../platform/database/generated/client.ts';
import { lockRow } from '../platform/database/lock-row.ts';
import type { ActContext } from '../platform/http/route.ts';
import { requireTechnician } from '../staff/index.ts';
import { cancelForMove, requireMovable } from './cancel-for-move.ts';
import { visitPurposeSchema } from './contract.ts';
import { booksOf, feeTerms } from './fee-terms.ts';
import { lockTechnicians } from './lock-technicians.ts';
import type { PlannedColumns } from './planned-columns.ts';
import { takenOrThrow } from './taken-or-throw.ts';
import { termsThatStay } from './terms-of-move.ts';
import { writeVisit } from './write-visit.ts';

/** When a booked visit is to be worked at, and by whom. */
export interface Replanned extends PlannedColumns {
  visitId: string;
  technicianId: string;
}

/**
 * Holds some visits with their tickets and technicians, in the order in which everybody waits:
 * tickets, technicians, visits, each by identifier.
 */
export async function holdVisits(act: ActContext, works: readonly Replanned[]): Promise<Visit[]> {
  const where = { id: { in: works.map(({ visitId }) => visitId) } };
  const found = await act.tx.visit.findMany({ where });
  const tickets = [...new Set(found.map(({ ticketId }) => ticketId))].sort();
  for (const id of tickets) await lockRow(act.tx, 'ticket', id);
  const technicians = [...found, ...works].map(({ technicianId }) => technicianId);
  await lockTechnicians(act.tx, technicians);
  for (const id of found.map((visit) => visit.id).sort()) await lockRow(act.tx, 'visit', id);
  return act.tx.visit.findMany({ where, orderBy: { id: 'asc' } });
}

/**
 * Plans many held visits anew inside their promised windows, all or none: in place where the
 * technician stays, and booked anew with the same fee where another one comes. Whoever goes makes
 * room first, then those who stay change places, then the new ones are booked.
 * @param visits as `holdVisits` read them
 * @throws ProblemError 409 where one has begun, others rest on its fee, or a technician has other
 *   work at that time
 */
export async function replanVisits(
  act: ActContext,
  visits: readonly Visit[],
  works: readonly Replanned[],
  reason: string,
): Promise<Visit[]> {
  const workOf = new Map(works.map((work) => [work.visitId, work]));
  const both = visits.flatMap((visit) => {
    const work = workOf.get(visit.id);
    return work === undefined ? [] : [{ visit, work }];
  });
  const going = both.filter(({ visit, work }) => visit.technicianId !== work.technicianId);
  for (const { visit, work } of going) {
    await requireMovable(act, visit);
    await requireTechnician(act, work.technicianId);
    await cancelForMove(act, visit, reason);
  }
  await shift(
    act,
    both.filter(({ visit, work }) => visit.technicianId === work.technicianId),
  );
  const booked: Visit[] = [];
  for (const each of going.sort(byStart)) booked.push(await bookWithAnother(act, each));
  return booked;
}

interface Both {
  visit: Visit;
  work: Replanned;
}

function byStart(one: Both, other: Both): number {
  return one.work.plannedStart.getTime() - other.work.plannedStart.getTime();
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

async function bookWithAnother(act: ActContext, { visit, work }: Both): Promise<Visit> {
  const { technicianId, plannedStart, plannedEnd } = work;
  const purpose = visitPurposeSchema.parse(visit.purpose);
  const { siteId } = await act.tx.ticket.findUniqueOrThrow({ where: { id: visit.ticketId } });
  const place = { siteId, technicianId, windowStart: visit.windowStart, plannedStart, plannedEnd };
  const found = await feeTerms(booksOf(act), { ...place, purpose }, 'book');
  return writeVisit(act, {
    ...{ ticketId: visit.ticketId, technicianId, purpose },
    ...{ windowStart: visit.windowStart, windowEnd: visit.windowEnd },
    planned: { plannedStart, plannedEnd },
    terms: termsThatStay(visit, found),
    feeAgreedBy: visit.feeAgreedBy,
    feeAgreedAt: visit.feeAgreedAt,
    moved: { fromId: visit.id, askedBy: 'company', windowAgreedBy: null },
  });
}
