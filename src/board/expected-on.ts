import { localDay } from '../company/index.ts';
import { dispatchPolicyOf } from '../dispatch-policy/index.ts';
import { type Crew, type DayNow, expectedArrivals, type Place } from '../planning/index.ts';
import type { ReadContext } from '../platform/http/route.ts';
import { crewsOf } from '../technicians/index.ts';
import { placesOf } from '../workdays/index.ts';
import type { VisitRow } from './visits-planned.ts';

/** When somebody is expected at a visit, as a card shows it. */
export interface ExpectedArrival {
  arrival: string;
  minutesLate: number;
}

/** A day, with the visits that stand on its board. */
export interface DayOfVisits {
  day: string;
  timeZone: string;
  visits: readonly VisitRow[];
}

/**
 * When a technician is expected at every visit of a day that nobody has arrived at, as the day
 * stands now. Nothing is expected of a day that is over, nor of who sets out from nowhere.
 */
export async function expectedOn(
  { prisma, sql, now }: Pick<ReadContext, 'prisma' | 'sql' | 'now'>,
  { day, timeZone, visits }: DayOfVisits,
): Promise<ReadonlyMap<string, ExpectedArrival>> {
  const { base, roadFactor, mph, parkMinutes } = await dispatchPolicyOf(prisma);
  const { crews } = await crewsOf(prisma, day, { timeZone, base });
  const usualBase = base ?? crews[0]?.base;
  const isOver = day < localDay(now, timeZone) && !visits.some(isInHand);
  if (usualBase === undefined || isOver) return new Map();
  const unplaced = visits.filter(({ place }) => place === null).map(({ siteId }) => siteId);
  const places = await placesOf(sql, unplaced, usualBase);
  const stops = visits.map((visit) => ({
    visit,
    stop: stopOf(visit, visit.place ?? places.get(visit.siteId)?.place ?? usualBase, now),
  }));
  const nowMinute = minuteOf(now);
  const expected = crews.flatMap((crew) => {
    const own = stops.filter(({ visit }) => visit.technicianId === crew.technicianId);
    const route = { crew: withHours(crew, own), stops: own.map(({ stop }) => stop).sort(inOrder) };
    return expectedArrivals(route, nowMinute, { roadFactor, mph, parkMinutes });
  });
  return new Map(
    expected.map(({ stopId, arrival, lateMinutes }) => [
      stopId,
      { arrival: new Date(arrival * 60_000).toISOString(), minutesLate: lateMinutes },
    ]),
  );
}

type StopNow = DayNow['stops'][number];

function isInHand({ state }: VisitRow): boolean {
  return state === 'on_the_way' || state === 'on_site';
}

function stopOf(visit: VisitRow, place: Place, now: Date): StopNow {
  const plannedStart = minuteOf(visit.planned.start);
  return {
    id: visit.visitId,
    place,
    minutes: Math.max(1, minuteAfter(visit.planned.end) - plannedStart),
    earliest: Math.min(minuteAfter(visit.window.start), minuteOf(visit.window.end)),
    latest: minuteOf(visit.window.end),
    needs: [],
    helpers: 0,
    promised: true,
    technicianId: visit.technicianId,
    plannedStart,
    weight: 1,
    progress: progressOf(visit, now),
  };
}

/** Where nobody let anybody in, the trip was made all the same. */
function progressOf(visit: VisitRow, now: Date): StopNow['progress'] {
  const { state, arrivedAt, onTheWaySince, planned } = visit;
  switch (state) {
    case 'booked':
      return { kind: 'booked' };
    case 'on_the_way':
      return { kind: 'on_the_way', since: minuteOf(onTheWaySince ?? now) };
    case 'on_site':
      return { kind: 'on_site', since: minuteOf(arrivedAt ?? now) };
    case 'finished':
    case 'no_access': {
      // When it ended is not known here, and does not matter: what is left begins now at the earliest.
      const start = minuteOf(arrivedAt ?? earlier(planned.start, now));
      return { kind: 'finished', start, end: Math.max(start, minuteOf(earlier(planned.end, now))) };
    }
  }
}

function earlier(one: Date, other: Date): Date {
  return one < other ? one : other;
}

/** Whoever has visits on a day without hours does them all the same, from the first window on. */
function withHours(crew: Crew, own: readonly { visit: VisitRow; stop: StopNow }[]): Crew {
  if (crew.hours.length > 0 || own.length === 0) return crew;
  const from = Math.min(...own.map(({ stop }) => stop.earliest));
  return { ...crew, hours: [{ from, to: from + MINUTES_A_DAY }] };
}

const MINUTES_A_DAY = 1_440;

const ORDER = { finished: 0, on_site: 1, on_the_way: 2, booked: 3 } as const;

/** What is over, then what is in hand, then what is booked; within each by its time. */
function inOrder(one: StopNow, other: StopNow): number {
  return (
    ORDER[one.progress.kind] - ORDER[other.progress.kind] ||
    (one.plannedStart ?? one.earliest) - (other.plannedStart ?? other.earliest) ||
    (one.id < other.id ? -1 : 1)
  );
}

function minuteOf(instant: Date): number {
  return Math.floor(instant.getTime() / 60_000);
}

function minuteAfter(instant: Date): number {
  return Math.ceil(instant.getTime() / 60_000);
}
