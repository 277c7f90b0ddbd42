import type { Work } from './start-times.ts';
import { travelMinutes } from './travel-minutes.ts';
import type { Crew, Place, Road, Span, Stop } from './words.ts';

/**
 * When one stop's work may begin on the day that is planned. Where its promise or the hours cannot
 * be kept, `latest` is the lateness it is held to instead, and `beyondHours` is true.
 */
export interface Limits extends Work {
  readonly pinnedStart: number | undefined;
}

/**
 * A day with numbers for names, so that it can be searched: stop 0 is the first by id, and so is
 * crew 0. The order in which they were given is gone, and with it every difference it could make.
 */
export interface DayProblem {
  readonly crews: readonly Crew[];
  readonly stops: readonly Stop[];
  readonly limits: readonly Limits[];
  /** By crew and stop, whether it has the skills and the helpers: `crew * stops + stop`. */
  readonly canDo: readonly boolean[];
  /** Minutes between the places of the stops and, after them, the bases of the crews. */
  readonly drives: Int32Array;
}

/**
 * @throws RangeError where two stops or two crews have one id, hours are not in order, work takes no
 *   time, or a window closes before it opens.
 */
export function dayProblem(
  givenCrews: readonly Crew[],
  givenStops: readonly Stop[],
  road: Road,
): DayProblem {
  const crews = inOrder(givenCrews, ({ technicianId }) => technicianId);
  const stops = inOrder(givenStops, ({ id }) => id);
  for (const { hours } of crews) assertInOrder(hours);
  for (const stop of stops) assertSound(stop);
  return {
    crews,
    stops,
    limits: stops.map((stop) => ({
      minutes: stop.minutes,
      earliest: stop.earliest,
      latest: stop.latest,
      beyondHours: false,
      pinnedStart: stop.pinnedStart,
    })),
    canDo: crews.flatMap((crew) => stops.map((stop) => isFit(crew, stop))),
    drives: drivesBetween(
      [...stops.map(({ place }) => place), ...crews.map(({ base }) => base)],
      road,
    ),
  };
}

/** Minutes of driving from the place of one number to that of another. */
export function drive(problem: DayProblem, from: number, to: number): number {
  const places = problem.stops.length + problem.crews.length;
  return problem.drives[from * places + to] ?? 0;
}

/** The number of the place where a crew's day begins and ends. */
export function baseOf(problem: DayProblem, crew: number): number {
  return problem.stops.length + crew;
}

export function canDo(problem: DayProblem, crew: number, stop: number): boolean {
  return problem.canDo[crew * problem.stops.length + stop] ?? false;
}

/** The first minute at which a crew leaves for anything. */
export function dayBegin({ hours }: Crew): number {
  return hours[0]?.from ?? Number.NEGATIVE_INFINITY;
}

/** The entry of a list at a number that stands for one of its own. */
export function entry<T>(list: readonly T[], index: number): T {
  const value = list[index];
  if (value === undefined) throw new RangeError(`Nothing has the number ${index}.`);
  return value;
}

/** Who was booked with a promise is fit for it: somebody judged that, and the promise stands. */
function isFit(crew: Crew, { needs, helpers, promised, technicianId }: Stop): boolean {
  if (promised && technicianId === crew.technicianId) return true;
  return helpers <= crew.helpers && needs.every((need) => crew.skills.includes(need));
}

function drivesBetween(places: readonly Place[], road: Road): Int32Array {
  const drives = new Int32Array(places.length ** 2);
  places.forEach((one, row) => {
    for (let column = row + 1; column < places.length; column++) {
      const minutes = travelMinutes(one, entry(places, column), road);
      drives[row * places.length + column] = minutes;
      drives[column * places.length + row] = minutes;
    }
  });
  return drives;
}

/** By code units, so that no language of the machine changes a plan. */
function inOrder<T>(given: readonly T[], idOf: (each: T) => string): T[] {
  const sorted = [...given].sort((one, other) => (idOf(one) < idOf(other) ? -1 : 1));
  sorted.forEach((each, index) => {
    const before = sorted[index - 1];
    if (before !== undefined && idOf(before) === idOf(each)) {
      throw new RangeError(`${idOf(each)} is there twice.`);
    }
  });
  return sorted;
}

function assertInOrder(hours: readonly Span[]): void {
  hours.forEach(({ from, to }, index) => {
    const before = hours[index - 1];
    if (!(from <= to) || (before !== undefined && from < before.to)) {
      throw new RangeError(`Hours that are not in order: ${from} to ${to}.`);
    }
  });
}

function assertSound(stop: Stop): void {
  if (!(stop.minutes > 0)) throw new RangeError(`${stop.id} takes no time.`);
  if (!(stop.earliest <= stop.latest)) throw new RangeError(`${stop.id} has no window.`);
}
