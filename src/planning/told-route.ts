import { type DayProblem, entry } from './day-problem.ts';
import { followRoute } from './follow-route.ts';

/** How one stop of a day goes, in epoch minutes. */
export interface RouteStop {
  readonly stopId: string;
  /** The drive there, from the stop before or from the base. */
  readonly driveMinutes: number;
  readonly arrival: number;
  /** At the door, before the work begins. */
  readonly waitMinutes: number;
  readonly start: number;
  readonly end: number;
  /** Of its start, past the end of its window. */
  readonly lateMinutes: number;
  /** Of its work, outside the hours. */
  readonly beyondMinutes: number;
}

/** A technician's day. */
export interface Route {
  readonly technicianId: string;
  readonly stops: readonly RouteStop[];
  /** The way home included. */
  readonly travelMinutes: number;
  /** Back at the base; absent where the day has no stop. */
  readonly homeAt?: number;
  /** Whether every start lies in its window and all work within the hours. */
  readonly isKept: boolean;
}

/** A crew's day in an order, told by the names of its stops. */
export function toldRoute(problem: DayProblem, crew: number, order: readonly number[]): Route {
  const followed = followRoute(problem, crew, order);
  const last = followed.stops.at(-1);
  return {
    technicianId: entry(problem.crews, crew).technicianId,
    stops: followed.stops.map(({ stop, ...each }) => ({
      stopId: entry(problem.stops, stop).id,
      waitMinutes: each.start - each.arrival,
      ...each,
    })),
    travelMinutes: followed.travelMinutes,
    ...(last === undefined ? {} : { homeAt: last.end + followed.homeMinutes }),
    isKept: followed.lateMinutes === 0 && followed.beyondMinutes === 0,
  };
}
