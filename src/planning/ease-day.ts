import { canDo, type DayProblem, entry } from './day-problem.ts';
import { followRoute } from './follow-route.ts';
import { heldTo, type Orders } from './held-to.ts';

/**
 * The day whose promises cannot all be kept, with limits that can: each promise that stands late,
 * or outside the hours, is held to that instead. From each of several beginnings the promises are
 * moved, one at a time, while that lessens the minutes late over all of them, then the minutes of
 * work outside the hours, then the road. The least found is a good one; that it is the least there
 * is, is not proven.
 *
 * @param beginnings Orders of pinned and promised stops; those that stand in none are put in first.
 */
export function easeDay(
  problem: DayProblem,
  beginnings: readonly Orders[],
): { problem: DayProblem; orders: Orders } {
  const [first, ...others] = beginnings.map((orders) =>
    leastLate(problem, placedAll(problem, orders)),
  );
  if (first === undefined) throw new RangeError('There is nothing to begin with.');
  const orders = others.reduce(
    (best, each) => (compareHarm(harmOf(problem, each), harmOf(problem, best)) < 0 ? each : best),
    first,
  );
  return { problem: heldTo(problem, orders), orders };
}

/** What is wrong with orders: the less, the better, from the first to the last. */
type Harm = readonly [lateMinutes: number, beyondMinutes: number, travelMinutes: number];

function harmOfRoute(problem: DayProblem, crew: number, order: readonly number[]): Harm {
  const { lateMinutes, beyondMinutes, travelMinutes } = followRoute(problem, crew, order);
  return [lateMinutes, beyondMinutes, travelMinutes];
}

function harmOf(problem: DayProblem, orders: Orders): Harm {
  return orders
    .map((order, crew) => harmOfRoute(problem, crew, order))
    .reduce<Harm>(addHarm, [0, 0, 0]);
}

function addHarm(one: Harm, other: Harm): Harm {
  return [one[0] + other[0], one[1] + other[1], one[2] + other[2]];
}

function compareHarm(one: Harm, other: Harm): number {
  return one[0] - other[0] || one[1] - other[1] || one[2] - other[2];
}

/** Puts the promises that stand nowhere where they do least harm, the earliest due first. */
function placedAll(problem: DayProblem, orders: Orders): Orders {
  const placed = new Set(orders.flat());
  const absent = problem.stops
    .map((_, stop) => stop)
    .filter((stop) => entry(problem.stops, stop).promised && !placed.has(stop))
    .sort((one, other) => dueOf(problem, one) - dueOf(problem, other) || one - other);
  return absent.reduce((before, stop) => putWell(problem, before, stop) ?? before, orders);
}

function dueOf(problem: DayProblem, stop: number): number {
  return entry(problem.limits, stop).latest;
}

/** Moves promises out of routes in trouble, while that does any good. */
function leastLate(problem: DayProblem, given: Orders): Orders {
  let orders = given;
  for (;;) {
    const better = movable(problem, orders).reduce<Orders | undefined>((found, stop) => {
      if (found !== undefined) return found;
      const without = orders.map((order) => order.filter((each) => each !== stop));
      const moved = putWell(problem, without, stop);
      return moved !== undefined && compareHarm(harmOf(problem, moved), harmOf(problem, orders)) < 0
        ? moved
        : undefined;
    }, undefined);
    if (better === undefined) return orders;
    orders = better;
  }
}

function movable(problem: DayProblem, orders: Orders): number[] {
  return orders
    .filter((order, crew) => {
      const [lateMinutes, beyondMinutes] = harmOfRoute(problem, crew, order);
      return lateMinutes > 0 || beyondMinutes > 0;
    })
    .flat()
    .filter((stop) => entry(problem.limits, stop).pinnedStart === undefined);
}

/** The orders with a stop put where it does least harm; undefined where nobody can do it. */
function putWell(problem: DayProblem, orders: Orders, stop: number): Orders | undefined {
  let best: { orders: Orders; harm: Harm } | undefined;
  for (const [crew, order] of orders.entries()) {
    if (!canDo(problem, crew, stop)) continue;
    const before = harmOfRoute(problem, crew, order);
    for (let position = pinnedIn(problem, order); position <= order.length; position++) {
      const longer = order.toSpliced(position, 0, stop);
      const after = harmOfRoute(problem, crew, longer);
      const harm: Harm = [after[0] - before[0], after[1] - before[1], after[2] - before[2]];
      if (best !== undefined && compareHarm(harm, best.harm) >= 0) continue;
      best = { orders: orders.with(crew, longer), harm };
    }
  }
  return best?.orders;
}

function pinnedIn(problem: DayProblem, order: readonly number[]): number {
  return order.filter((stop) => entry(problem.limits, stop).pinnedStart !== undefined).length;
}
