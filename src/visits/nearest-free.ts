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
  type WindowsWanted,
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
  const days = await workDays(reader, [day]);
  const work = await workOf(reader, days, wanted);
  if (work === undefined) return [];
  const free = freeOn(days, [day], work, wanted, reader.now);
  if (free.length < NEAREST_MAX) {
    const next = [plusDays(day, 1), plusDays(day, 2)] as const;
    free.push(...freeOn(await workDays(reader, next), next, work, wanted, reader.now));
  }
  return free
    .sort((one, other) => compare(wanted, one, other))
    .slice(0, NEAREST_MAX)
    .map(told);
}

/** What the work takes, and where; undefined where no travel can be reckoned. */
async function workOf(
  reader: Reader,
  { usualBase, policy }: WorkDays,
  { ticketId, insteadOfId, minutes }: WantedVisit,
): Promise<WindowsWanted | undefined> {
  const needs = (await ticketNeeds(reader, [ticketId], policy.usualMinutes)).get(ticketId);
  if (needs === undefined || usualBase === undefined) return undefined;
  const known = (await placesOf(reader.sql, [needs.siteId], usualBase)).get(needs.siteId);
  if (known === undefined) return undefined;
  return {
    ...{ place: known.place, needs: needs.skills, minutes: minutes ?? needs.minutes },
    ...{ urgency: 'soonest', insteadOfId },
  };
}

function freeOn(
  days: WorkDays,
  asked: readonly string[],
  work: WindowsWanted,
  wanted: WantedVisit,
  now: Date,
): WindowOffer[] {
  return freeWindows(days, work, windowsFor(days, asked, wanted, now), now);
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
