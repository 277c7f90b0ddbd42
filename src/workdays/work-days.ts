import { companyOf, localDay, localInstant } from '../company/index.ts';
import { type DispatchPolicy, dispatchPolicyOf } from '../dispatch-policy/index.ts';
import type { Crew, DayNow, Place, Progress, Road, Stop } from '../planning/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import type { Sql, Tx } from '../platform/database/database.ts';
import { type CrewsOfDay, crewsOf } from '../technicians/index.ts';
import { type BookedVisit, bookedVisits } from './booked-visits.ts';
import { minuteAfter, minuteOf } from './minutes.ts';
import { placesOf } from './places-of.ts';

/** A booked visit as a stop, and as what it is. */
export interface BookedStop extends Stop {
  readonly progress: Progress;
  readonly visit: BookedVisit;
}

/** A technician on one day, with what is booked in the order of the day. */
export interface TechnicianDay {
  readonly day: string;
  readonly crew: Crew;
  readonly stops: readonly BookedStop[];
}

/** Some days of the company as they stand. */
export interface WorkDays {
  readonly timeZone: string;
  readonly policy: DispatchPolicy;
  readonly road: Road;
  /** Of every day everybody who has a base; also who has no hours then. */
  readonly days: readonly TechnicianDay[];
  /** Shifts of the day before that go on past the first midnight. */
  readonly nightBefore: readonly TechnicianDay[];
  /** Everything planned on these days, on the day before and on the day after them. */
  readonly visits: readonly BookedVisit[];
  /** Who is in no day, because no travel can be reckoned for them. */
  readonly withoutBase: readonly string[];
  /** What stands for a place that nothing tells; undefined where nobody has a base. */
  readonly usualBase: Place | undefined;
}

/** The books of one moment, or of a transaction. */
export interface Reader {
  prisma: Tx;
  sql: Sql;
  now: Date;
}

/**
 * Days of the company as they stand, of every technician, by a few statements a day.
 * @param days local days in a row, as `2026-07-14`
 */
export async function workDays(
  { prisma, sql, now }: Reader,
  days: readonly [string, ...string[]],
): Promise<WorkDays> {
  const { timeZone } = await companyOf(prisma);
  const policy = await dispatchPolicyOf(prisma);
  const [first] = days;
  const last = days.at(-1) ?? first;
  const visits = await bookedVisits(
    sql,
    localInstant(plusDays(first, -1), 0, timeZone),
    localInstant(plusDays(last, 2), 0, timeZone),
  );
  // A night shift that began on the day before has what is planned after its midnight.
  const asked = [plusDays(first, -1), ...days];
  // One after another: a reader takes one connection, however many days are asked for.
  const manned: ({ day: string } & CrewsOfDay)[] = [];
  const ofCompany = { timeZone, base: policy.base };
  for (const day of asked) manned.push({ day, ...(await crewsOf(prisma, day, ofCompany)) });
  const withoutBase = [...new Set(manned.flatMap((each) => each.withoutBase))].sort();
  const usualBase = policy.base ?? manned.flatMap(({ crews }) => crews)[0]?.base;
  const places =
    usualBase === undefined
      ? new Map()
      : await placesOf(
          sql,
          visits.map(({ siteId }) => siteId),
          usualBase,
        );
  const spans = manned.flatMap(({ day, crews }) => crews.map((crew) => ({ day, crew })));
  const dayOf = (visit: BookedVisit) =>
    shiftOf(visit, spans) ?? localDay(visit.plannedStart, timeZone);
  const stops = visits.flatMap((visit) => {
    const place = places.get(visit.siteId)?.place;
    return place === undefined ? [] : [{ day: dayOf(visit), stop: bookedStop(visit, place, now) }];
  });
  const told = spans.map(({ day, crew }) => ({
    ...{ day, crew },
    stops: stops
      .filter((each) => each.day === day && each.stop.technicianId === crew.technicianId)
      .map(({ stop }) => stop)
      .sort(compareInDay),
  }));
  const midnight = minuteOf(localInstant(first, 0, timeZone));
  return {
    ...{ timeZone, policy, road: roadOf(policy), visits, withoutBase, usualBase },
    days: told.filter(({ day }) => days.includes(day)),
    nightBefore: told.filter(
      ({ day, crew }) => !days.includes(day) && crew.hours.some(({ to }) => to > midnight),
    ),
  };
}

/** A technician's day as planning wants it: with what is in hand as it stands at a minute. */
export function dayNow({ crew, stops }: TechnicianDay): DayNow {
  return { crew, stops: stops.map(({ visit: _, ...stop }) => stop) };
}

function roadOf({ roadFactor, mph, parkMinutes }: DispatchPolicy): Road {
  return { roadFactor, mph, parkMinutes };
}

/** The day whose shift of its technician the work begins in; undefined for none. */
function shiftOf(
  { technicianId, plannedStart }: BookedVisit,
  shifts: readonly { day: string; crew: Crew }[],
): string | undefined {
  const start = minuteOf(plannedStart);
  return shifts.find(
    ({ crew }) =>
      crew.technicianId === technicianId &&
      crew.hours.some(({ from, to }) => from <= start && start < to),
  )?.day;
}

function bookedStop(visit: BookedVisit, place: Place, now: Date): BookedStop {
  const plannedStart = minuteOf(visit.plannedStart);
  // A promise of less than a minute, at the turn of one, is that minute.
  const earliest = Math.min(minuteAfter(visit.windowStart), minuteOf(visit.windowEnd));
  return {
    id: visit.id,
    place,
    minutes: Math.max(1, minuteAfter(visit.plannedEnd) - plannedStart),
    earliest,
    latest: minuteOf(visit.windowEnd),
    needs: [],
    helpers: 0,
    promised: true,
    technicianId: visit.technicianId,
    plannedStart,
    weight: 1,
    progress: progressOf(visit, now),
    visit,
  };
}

function progressOf({ state, arrivedAt, since }: BookedVisit, now: Date): Progress {
  const sinceMinute = minuteOf(since ?? now);
  switch (state) {
    case 'booked':
      return { kind: 'booked' };
    case 'on_the_way':
      return { kind: 'on_the_way', since: sinceMinute };
    case 'on_site':
      return { kind: 'on_site', since: minuteOf(arrivedAt ?? now) };
    case 'finished': {
      const start = minuteOf(arrivedAt ?? since ?? now);
      return { kind: 'finished', start, end: Math.max(start, sinceMinute) };
    }
  }
}

const ORDER = { finished: 0, on_site: 1, on_the_way: 2, booked: 3 } as const;

/** What is over, then what is in hand, then what is booked; within each by its time. */
function compareInDay(one: BookedStop, other: BookedStop): number {
  return (
    ORDER[one.progress.kind] - ORDER[other.progress.kind] ||
    beginOf(one) - beginOf(other) ||
    (one.id < other.id ? -1 : 1)
  );
}

function beginOf({ progress, visit }: BookedStop): number {
  switch (progress.kind) {
    case 'finished':
      return progress.start;
    case 'on_site':
    case 'on_the_way':
      return progress.since;
    case 'booked':
      return minuteOf(visit.plannedStart);
  }
}
