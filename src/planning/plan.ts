import { type DayProblem, entry } from './day-problem.ts';
import type { KeptRoute } from './kept-route.ts';

/** A day's routes, one for each crew, and the stops that stand in none. */
export interface Plan {
  readonly routes: readonly KeptRoute[];
  readonly absent: readonly number[];
  /** By stop, the crew that has it and may lose it; -1 where it is pinned or absent. */
  readonly holders: Int16Array;
  readonly absentPromises: number;
  readonly absentWeight: number;
  readonly travelMinutes: number;
}

export function planOf(
  problem: DayProblem,
  routes: readonly KeptRoute[],
  absent: readonly number[],
): Plan {
  const stops = absent.map((stop) => entry(problem.stops, stop));
  return {
    routes,
    absent,
    holders: holdersOf(problem, routes),
    absentPromises: stops.filter(({ promised }) => promised).length,
    absentWeight: stops.reduce((sum, { promised, weight }) => sum + (promised ? 0 : weight), 0),
    travelMinutes: routes.reduce((sum, route) => sum + route.travelMinutes, 0),
  };
}

/**
 * Below zero where one plan is better than another: first the promises that stand in no route, then
 * the weight left out, then the road.
 */
export function comparePlans(one: Plan, other: Plan): number {
  return compareServed(one, other) || one.travelMinutes - other.travelMinutes;
}

/** The same without the road. */
export function compareServed(one: Plan, other: Plan): number {
  return one.absentPromises - other.absentPromises || one.absentWeight - other.absentWeight;
}

function holdersOf(problem: DayProblem, routes: readonly KeptRoute[]): Int16Array {
  const holders = new Int16Array(problem.stops.length).fill(-1);
  for (const { crew, order, pinned } of routes) {
    for (let position = pinned; position < order.length; position++) {
      holders[entry(order, position)] = crew;
    }
  }
  return holders;
}
