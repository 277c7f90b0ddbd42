import { cheapestInsertion } from './cheapest-insertion.ts';
import { type DayProblem, dayProblem, entry } from './day-problem.ts';
import { heldTo } from './held-to.ts';
import { type KeptRoute, keptRoute } from './kept-route.ts';
import { type RouteStop, toldRoute } from './told-route.ts';
import type { Crew, Place, Road, Span, Stop } from './words.ts';

/** What is to be booked. */
export interface WindowRequest {
  /** Of no stop that is booked already. */
  readonly id: string;
  readonly place: Place;
  readonly minutes: number;
  readonly needs: readonly string[];
  readonly helpers: number;
  /** Whether the soonest is the best, for somebody who must not wait in the heat. */
  readonly urgency: 'usual' | 'soonest';
}

/** What a technician has on a day already, in the order in which it is driven. */
export interface BookedDay {
  readonly crew: Crew;
  readonly stops: readonly Stop[];
}

/** One arrival window that can be promised, and what speaks for it. */
export interface WindowOffer {
  readonly technicianId: string;
  readonly window: Span;
  readonly plannedStart: number;
  readonly plannedEnd: number;
  /** What the whole day's drive grows by. */
  readonly addedTravelMinutes: number;
  /** The drive there, and the stop it begins at; absent for the base. */
  readonly driveThereMinutes: number;
  readonly afterStopId?: string;
  /** The drive from there, and the stop it ends at; absent for the base. */
  readonly driveOnMinutes: number;
  readonly beforeStopId?: string;
  /** Of the technician, at the door. */
  readonly waitMinutes: number;
  /** By how much the work could begin later before a promise of this day would break. */
  readonly slackMinutes: number;
  /** The planned starts of the others that change with it, each within its own window. */
  readonly shifts: readonly { readonly stopId: string; readonly start: number }[];
}

/**
 * The windows that can be promised without breaking a promise, the best first; of each technician
 * and window the place in the day that adds least to the drive. The order of what is booked stays.
 *
 * Usually the least added travel is the best, in steps of 5 minutes, for no estimate is better than
 * that; then the most slack, in steps of 15 minutes up to an hour; then the earliest start. Where
 * the soonest is the best, the start comes first, in steps of 15 minutes. Whoever is late already
 * gets no later by an offer.
 *
 * @param windows Arrival windows of any days; those a day's hours do not meet are not offered on it.
 * @throws RangeError as `dayProblem` does.
 */
export function bestWindows(
  request: WindowRequest,
  days: readonly BookedDay[],
  windows: readonly Span[],
  road: Road,
): WindowOffer[] {
  const rankOf = request.urgency === 'soonest' ? soonestFirst : leastTravelFirst;
  return days
    .flatMap((day) => offersOn(day, request, windows, road))
    .map((offer) => ({ offer, rank: rankOf(offer) }))
    .sort(
      (one, other) => compareRanks(one.rank, other.rank) || compareNames(one.offer, other.offer),
    )
    .map(({ offer }) => offer);
}

function offersOn(
  { crew, stops }: BookedDay,
  request: WindowRequest,
  windows: readonly Span[],
  road: Road,
): WindowOffer[] {
  const met = windows.filter((window) =>
    crew.hours.some(({ from, to }) => from <= window.to && to >= window.from),
  );
  const [any] = met;
  if (any === undefined) return [];
  const day = dayProblem([crew], [...stops, stopOf(request, any)], road);
  const numbers = new Map(day.stops.map(({ id }, number) => [id, number]));
  const order = stops.flatMap(({ id }) => numbers.get(id) ?? []);
  const asked = numbers.get(request.id);
  if (asked === undefined) return [];
  const held = heldTo(day, [order]);
  return met.flatMap((window) => offerIn(within(held, asked, window), order, asked, window) ?? []);
}

/** A stop that nobody has been promised yet. */
function stopOf(request: WindowRequest, { from, to }: Span): Stop {
  const { id, place, minutes, needs, helpers } = request;
  const own = { id, place, minutes, needs, helpers };
  return { ...own, earliest: from, latest: to, promised: false, weight: 1 };
}

function within(day: DayProblem, stop: number, { from, to }: Span): DayProblem {
  const limits = { ...entry(day.limits, stop), earliest: from, latest: to };
  return { ...day, limits: day.limits.with(stop, limits) };
}

function offerIn(
  day: DayProblem,
  order: readonly number[],
  stop: number,
  window: Span,
): WindowOffer | undefined {
  const booked = keptRoute(day, 0, order);
  const insertion = booked && cheapestInsertion(day, booked, stop);
  if (insertion === undefined) return undefined;
  const { position, addedMinutes } = insertion;
  const longer = keptRoute(day, 0, order.toSpliced(position, 0, stop));
  if (longer === undefined) throw new Error('An insertion that keeps all has broken a limit.');
  return offerOf(day, longer, position, addedMinutes, window);
}

function offerOf(
  day: DayProblem,
  route: KeptRoute,
  position: number,
  addedTravelMinutes: number,
  window: Span,
): WindowOffer {
  const { technicianId, stops, travelMinutes } = toldRoute(day, 0, route.order);
  const own = entry(stops, position);
  const [before, after] = [stops[position - 1], stops[position + 1]];
  const drives = stops.reduce((sum, { driveMinutes }) => sum + driveMinutes, 0);
  return {
    technicianId,
    window,
    plannedStart: own.start,
    plannedEnd: own.end,
    addedTravelMinutes,
    driveThereMinutes: own.driveMinutes,
    ...(before === undefined ? {} : { afterStopId: before.stopId }),
    driveOnMinutes: after?.driveMinutes ?? travelMinutes - drives,
    ...(after === undefined ? {} : { beforeStopId: after.stopId }),
    waitMinutes: own.waitMinutes,
    slackMinutes: entry(route.lasts, position) - own.start,
    shifts: stops.filter((each) => each !== own && isShifted(day, each)).map(namedStart),
  };
}

function isShifted(day: DayProblem, { stopId, start }: RouteStop): boolean {
  const before = day.stops.find(({ id }) => id === stopId);
  return before?.pinnedStart === undefined && before?.plannedStart !== start;
}

function namedStart({ stopId, start }: RouteStop) {
  return { stopId, start };
}

type Rank = readonly number[];

function leastTravelFirst({ addedTravelMinutes, slackMinutes, plannedStart }: WindowOffer): Rank {
  return [stepsOf(addedTravelMinutes, 5), -slackSteps(slackMinutes), plannedStart];
}

function soonestFirst({ addedTravelMinutes, slackMinutes, plannedStart }: WindowOffer): Rank {
  return [stepsOf(plannedStart, 15), stepsOf(addedTravelMinutes, 5), -slackSteps(slackMinutes)];
}

function slackSteps(slackMinutes: number): number {
  return stepsOf(Math.min(slackMinutes, 60), 15);
}

function stepsOf(minutes: number, step: number): number {
  return Math.floor(minutes / step);
}

function compareRanks(one: Rank, other: Rank): number {
  const at = one.findIndex((each, index) => each !== other[index]);
  return at === -1 ? 0 : (one[at] ?? 0) - (other[at] ?? 0);
}

/** So that the order in which days and windows were given makes no difference. */
function compareNames(one: WindowOffer, other: WindowOffer): number {
  if (one.technicianId !== other.technicianId)
    return one.technicianId < other.technicianId ? -1 : 1;
  return (
    one.plannedStart - other.plannedStart ||
    one.window.from - other.window.from ||
    one.window.to - other.window.to
  );
}
