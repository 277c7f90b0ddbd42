import type { z } from 'zod';
import { companyOf, localInstant } from '../company/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { type HoursOfDay, hoursOnDays } from '../technicians/index.ts';
import { toldFeeCents } from '../visits/index.ts';
import { beginningOf } from './beginning-of.ts';
import type { boardSchema, boardVisitSchema, columnSchema } from './contract.ts';
import { type ExpectedArrival, expectedOn } from './expected-on.ts';
import { householdOf } from './household-of.ts';
import { officeNow } from './office-now.ts';
import { type VisitRow, visitsPlanned } from './visits-planned.ts';

type Board = z.input<typeof boardSchema>;
type Column = z.input<typeof columnSchema>;

/**
 * The board of one local day, by as many statements however much there is on it: the technicians
 * with their hours and visits, and for the office what waits beside them. A technician sees the own
 * column alone. A visit is of the day its work is planned on, in a night shift of the day that the
 * shift began on. What was cancelled is nobody's work and is not shown.
 * @param day as `2026-07-14`
 */
export async function boardOf(context: ReadContext, day: string): Promise<Board> {
  const { prisma, sql, actor } = context;
  const { timeZone } = await companyOf(prisma);
  const own = actor.role === 'technician' ? actor.id : undefined;
  const people = await peopleOf(prisma, own);
  const ids = people.map(({ id }) => id);
  const dayBefore = plusDays(day, -1);
  const [hours, rows, office] = await Promise.all([
    hoursOnDays(prisma, ids, [dayBefore, day], timeZone),
    visitsPlanned(sql, {
      from: localInstant(day, 0, timeZone),
      before: localInstant(plusDays(day, 2), 0, timeZone),
      technicianId: own,
    }),
    own === undefined ? officeNow(context, timeZone) : null,
  ]);
  const endOfDay = localInstant(plusDays(day, 1), 0, timeZone);
  const visits = rows.filter((row) =>
    isOfDay(
      row,
      hours.get(row.technicianId)?.get(day),
      hours.get(row.technicianId)?.get(dayBefore),
      endOfDay,
    ),
  );
  const expected = await expectedOn(context, { day, timeZone, visits });
  const columns = people
    .map((person) => columnOf(person, hours.get(person.id)?.get(day), visits, expected))
    .filter(({ isHere, column }) => isHere || column.visits.length > 0)
    .map(({ column }) => column);
  return { day, timeZone, columns, office };
}

interface Person {
  id: string;
  name: string;
  disabledAt: Date | null;
}

/** Also who has left: their visits of that day still stand where they were. */
function peopleOf(prisma: ReadContext['prisma'], own: string | undefined): Promise<Person[]> {
  return prisma.staff.findMany({
    where: { role: 'technician', ...(own !== undefined && { id: own }) },
    orderBy: [{ name: 'asc' }, { id: 'asc' }],
    select: { id: true, name: true, disabledAt: true },
  });
}

function isOfDay(
  { planned }: VisitRow,
  hours: HoursOfDay | undefined,
  hoursBefore: HoursOfDay | undefined,
  endOfDay: Date,
): boolean {
  // A shift that began the day before comes first: every visit stands on one board.
  if (isWithin(planned.start, hoursBefore)) return false;
  return planned.start < endOfDay || isWithin(planned.start, hours);
}

function isWithin(instant: Date, of: HoursOfDay | undefined): boolean {
  const minute = instant.getTime() / 60_000;
  return of?.hours.some(({ from, to }) => from <= minute && minute < to) ?? false;
}

function columnOf(
  { id, name, disabledAt }: Person,
  ofDay: HoursOfDay | undefined,
  visits: readonly VisitRow[],
  expected: ReadonlyMap<string, ExpectedArrival>,
): { isHere: boolean; column: Column } {
  return {
    isHere: disabledAt === null,
    column: {
      technicianId: id,
      name,
      hours: (ofDay?.hours ?? []).map(toldSpan),
      onCall: (ofDay?.onCall ?? []).map(toldSpan),
      absence: ofDay?.absence?.why ?? null,
      visits: visits
        .filter(({ technicianId }) => technicianId === id)
        .map((visit) => visitBody(visit, expected.get(visit.visitId))),
    },
  };
}

function visitBody(
  visit: VisitRow,
  expected: ExpectedArrival | undefined,
): z.input<typeof boardVisitSchema> {
  const { visitId, version, ticketId, ticketNumber, siteId, purpose, state, symptoms } = visit;
  return {
    ...{ visitId, version, ticketId, ticketNumber, siteId, purpose, state },
    complaint: beginningOf(visit.complaint),
    symptoms,
    household: householdOf(visit),
    window: instants(visit.window),
    planned: instants(visit.planned),
    arrivedAt: visit.arrivedAt?.toISOString() ?? null,
    openDangers: visit.openDangers,
    expected: expected ?? null,
    feeCents: visit.feeCents,
    feeAfterDiscountCents: toldFeeCents(visit),
  };
}

function instants({ start, end }: { start: Date; end: Date }) {
  return { start: start.toISOString(), end: end.toISOString() };
}

function toldSpan({ from, to }: { from: number; to: number }) {
  return instants({ start: new Date(from * 60_000), end: new Date(to * 60_000) });
}
