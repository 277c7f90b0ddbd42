import { companyOf, localDay } from '../company/index.ts';
import type { Span, WindowOffer } from '../planning/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import {
  freeWindows,
  instantOf,
  minuteAfter,
  minuteOf,
  offeredWindows,
  placesOf,
  type Reader,
  ticketNeeds,
  type WorkDays,
  workDays,
} from '../workdays/index.ts';

/** What was asked for and is taken. */
export interface WantedVisit {
  ticketId: string;
  technicianId: string;
  windowStart: Date;
  windowEnd: Date;
  /** Undefined where nothing was said. */
  minutes: number | undefined;
  /** A visit that would be given up for it. */
  insteadOfId?: string;
}

/** A technician and a window that are free, as they are booked. */
export interface FreeWindow {
  technicianId: string;
  windowStart: string;
  windowEnd: string;
  planned: { start: string; minutes: number };
}

const NEAREST_MAX = 3;

/**
 * Up to three free windows, the nearest to the wanted one first: at the same distance those of the
 * same technician, then those with the least added travel. A day costs a handful of statements, so
 * the next two days are looked at only where the wanted one has not three.
 */
export async function nearestFree(reader: Reader, wanted: WantedVisit): Promise<FreeWindow[]> {
  const { timeZone } = await companyOf(reader.prisma);
  const day = localDay(wanted.windowStart, timeZone);
  const free = await freeOn(reader, [day], wanted);
  if (free.length < NEAREST_MAX) {
    free.push(...(await freeOn(reader, [plusDays(day, 1), plusDays(day, 2)], wanted)));
  }
  return free
    .sort((one, other) => compare(wanted, one, other))
    .slice(0, NEAREST_MAX)
    .map(told);
}

async function freeOn(
  reader: Reader,
  asked: [string, ...string[]],
  wanted: WantedVisit,
): Promise<WindowOffer[]> {
  const days = await workDays(reader, asked);
  if (days.usualBase === undefined) return [];
  const { ticketId, insteadOfId } = wanted;
  const needs = (await ticketNeeds(reader, [ticketId], days.policy.usualMinutes)).get(ticketId);
  const places = await placesOf(reader.sql, needs ? [needs.siteId] : [], days.usualBase);
  const place = needs && places.get(needs.siteId)?.place;
  if (needs === undefined || place === undefined) return [];
  const asWanted = {
    ...{ place, needs: needs.skills, minutes: wanted.minutes ?? needs.minutes, insteadOfId },
    urgency: 'soonest',
  } as const;
  return freeWindows(days, asWanted, windowsFor(days, asked, wanted, reader.now), reader.now);
}

/** Those that are offered, and the wanted one itself: another technician may be free then. */
function windowsFor(
  days: WorkDays,
  asked: readonly string[],
  { windowStart, windowEnd }: WantedVisit,
  now: Date,
): Span[] {
  const offered = offeredWindows(days, asked, now);
  const own = { from: minuteAfter(windowStart), to: minuteOf(windowEnd) };
  const isOffered = offered.some(({ from, to }) => from === own.from && to === own.to);
  const isOwnOpen = windowStart >= now && own.to > own.from;
  return isOffered || !isOwnOpen ? offered : [own, ...offered];
}

function compare(wanted: WantedVisit, one: WindowOffer, other: WindowOffer): number {
  const distance = ({ window }: WindowOffer) =>
    Math.abs(window.from - minuteOf(wanted.windowStart));
  const isAnother = ({ technicianId }: WindowOffer) =>
    technicianId === wanted.technicianId ? 0 : 1;
  return (
    distance(one) - distance(other) ||
    isAnother(one) - isAnother(other) ||
    one.addedTravelMinutes - other.addedTravelMinutes
  );
}

function told({ technicianId, window, plannedStart, plannedEnd }: WindowOffer): FreeWindow {
  return {
    technicianId,
    windowStart: instantOf(window.from).toISOString(),
    windowEnd: instantOf(window.to).toISOString(),
    planned: {
      start: instantOf(plannedStart).toISOString(),
      minutes: plannedEnd - plannedStart,
    },
  };
}
