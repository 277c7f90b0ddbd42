import { baseOf, type DayProblem, dayBegin, drive, entry, type Limits } from './day-problem.ts';
import { firstStart } from './start-times.ts';
import type { Crew, Span } from './words.ts';

/** How one stop of a route goes. */
export interface Followed {
  readonly stop: number;
  readonly driveMinutes: number;
  readonly arrival: number;
  readonly start: number;
  readonly end: number;
  /** Past its window's end. */
  readonly lateMinutes: number;
  /** Of its work, outside the hours. */
  readonly beyondMinutes: number;
}

export interface FollowedRoute {
  readonly stops: readonly Followed[];
  readonly homeMinutes: number;
  /** The way home included. */
  readonly travelMinutes: number;
  readonly lateMinutes: number;
  readonly beyondMinutes: number;
}

/**
 * A crew's day in an order that need not be kept to: what comes too late is late, and what fits
 * into no span of hours begins on arrival.
 */
export function followRoute(
  problem: DayProblem,
  crew: number,
  order: readonly number[],
): FollowedRoute {
  const { hours } = entry(problem.crews, crew);
  const stops: Followed[] = [];
  let place = baseOf(problem, crew);
  let free = Number.NEGATIVE_INFINITY;
  for (const stop of order) {
    const driveMinutes = drive(problem, place, stop);
    const work = entry(problem.limits, stop);
    const arrival = arrivalOf(entry(problem.crews, crew), work, free, driveMinutes);
    const start = work.pinnedStart ?? startOf(hours, work, arrival);
    const end = start + work.minutes;
    const lateMinutes = Math.max(0, start - work.latest);
    const beyondMinutes = work.pinnedStart === undefined ? beyond(hours, start, end) : 0;
    stops.push({ stop, driveMinutes, arrival, start, end, lateMinutes, beyondMinutes });
    place = stop;
    free = end;
  }
  const total = (of: (each: Followed) => number) => stops.reduce((sum, each) => sum + of(each), 0);
  const homeMinutes = drive(problem, place, baseOf(problem, crew));
  return {
    stops,
    homeMinutes,
    travelMinutes: total((each) => each.driveMinutes) + homeMinutes,
    lateMinutes: total((each) => each.lateMinutes),
    beyondMinutes: total((each) => each.beyondMinutes),
  };
}

function arrivalOf(crew: Crew, work: Limits, free: number, driveMinutes: number): number {
  if (work.pinnedStart !== undefined) return work.pinnedStart;
  const left = Math.max(free, dayBegin(crew));
  // Who has no hours at all and nothing behind comes when the window opens.
  return left === Number.NEGATIVE_INFINITY ? work.earliest : left + driveMinutes;
}

/** As early as the hours allow, however late; where none has room, on arrival. */
function startOf(hours: readonly Span[], work: Limits, arrival: number): number {
  return firstStart(
    hours,
    { ...work, latest: Number.POSITIVE_INFINITY, beyondHours: true },
    arrival,
  );
}

function beyond(hours: readonly Span[], start: number, end: number): number {
  const within = hours.map(({ from, to }) =>
    Math.max(0, Math.min(to, end) - Math.max(from, start)),
  );
  return end - start - within.reduce((sum, each) => sum + each, 0);
}
