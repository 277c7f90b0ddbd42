import { type DayProblem, dayProblem, entry } from './day-problem.ts';
import { easeDay } from './ease-day.ts';
import type { Orders } from './held-to.ts';
import { emptyRoute, type KeptRoute, keptRoute } from './kept-route.ts';
import { type Plan, planOf } from './plan.ts';
import { type Effort, searchPlan } from './search-plan.ts';
import { type DayPlan, toldPlan } from './told-plan.ts';
import type { Crew, Road, Stop } from './words.ts';

/**
 * A whole day planned anew. First, no promise is late, and none is left out that anybody can do:
 * where the present state keeps them all, the plan does. Where they cannot all be kept, the plan
 * is late by as little as it finds (`easeDay`), and says where. Then, the least weight is left
 * out; then, the least time is spent on the road. Stops under way stay where they are. What nobody
 * promised is never placed late or outside the hours.
 *
 * The same day with the same seed and rounds gives the same plan, in whatever order it is given.
 *
 * @throws RangeError as `dayProblem` does, and where work under way has no technician of this day.
 */
export function planDay(
  crews: readonly Crew[],
  stops: readonly Stop[],
  road: Road,
  effort: Effort,
): DayPlan {
  const problem = dayProblem(crews, stops, road);
  assertUnderWay(problem);
  const present = presentOrders(problem);
  const kept = searchPlan(problem, startPlan(problem, present), effort);
  if (kept.absentPromises === 0) return toldPlan(problem, kept);
  const found = kept.routes.map(({ order }) => bindingOf(problem, order));
  const eased = easeDay(problem, present, found, effort.rounds);
  const start = startPlan(eased.problem, eased.orders);
  return toldPlan(problem, searchPlan(eased.problem, start, effort));
}

function assertUnderWay({ crews, stops }: DayProblem): void {
  const technicians = new Set<string | undefined>(crews.map(({ technicianId }) => technicianId));
  for (const { id, pinnedStart, technicianId } of stops) {
    if (pinnedStart !== undefined && !technicians.has(technicianId)) {
      throw new RangeError(`${id} is under way with nobody of this day.`);
    }
  }
}

/** What is there already and binds: the pinned as they came, then the promised as planned. */
function presentOrders(problem: DayProblem): Orders {
  return problem.crews.map(({ technicianId }) => {
    const own = problem.stops.flatMap((stop, number) =>
      stop.technicianId === technicianId ? [number] : [],
    );
    return bindingOf(problem, own).sort((one, other) => comparePlanned(problem, one, other));
  });
}

function bindingOf(problem: DayProblem, order: readonly number[]): number[] {
  return order.filter((number) => {
    const { promised, pinnedStart } = entry(problem.stops, number);
    return promised || pinnedStart !== undefined;
  });
}

function comparePlanned(problem: DayProblem, one: number, other: number): number {
  const [first, second] = [entry(problem.stops, one), entry(problem.stops, other)];
  if (first.pinnedStart !== undefined || second.pinnedStart !== undefined) {
    const never = Number.MAX_SAFE_INTEGER;
    return (first.pinnedStart ?? never) - (second.pinnedStart ?? never) || one - other;
  }
  const plannedOf = ({ plannedStart, earliest }: Stop) => plannedStart ?? earliest;
  return plannedOf(first) - plannedOf(second) || one - other;
}

/** As much of the orders as keeps all limits; the rest is absent. */
function startPlan(problem: DayProblem, orders: Orders): Plan {
  const routes = orders.map((order, crew) => keptPart(problem, crew, order));
  const placed = new Set(routes.flatMap(({ order }) => order));
  const absent = problem.stops.map((_, stop) => stop).filter((stop) => !placed.has(stop));
  return planOf(problem, routes, absent);
}

function keptPart(problem: DayProblem, crew: number, order: readonly number[]): KeptRoute {
  return order.reduce(
    (kept, stop) => keptRoute(problem, crew, [...kept.order, stop]) ?? kept,
    emptyRoute(problem, crew),
  );
}
