import { canDo, type DayProblem, entry } from './day-problem.ts';
import { followRoute } from './follow-route.ts';
import { heldTo, type Orders } from './held-to.ts';
import { type Nearness, nearnessOf } from './nearness.ts';

/** How many of a stop's neighbors are tried together with it. */
const NEIGHBORS = 10;

/**
 * The day whose promises cannot all be kept, with limits that can: each promise that stands late,
 * or outside the hours, is held to that instead. From each of several beginnings the promises are
 * moved, one or two at a time, while that lessens the minutes late over all of them, then the minutes of
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

/** Moves promises out of routes in trouble, alone and two at a time, while that does any good. */
function leastLate(problem: DayProblem, given: Orders): Orders {
  const near = nearnessOf(problem);
  let orders = given;
  let better: Orders | undefined = given;
  while (better !== undefined) {
    orders = better;
    const troubled = movable(problem, orders);
    better =
      firstBetter(
        problem,
        orders,
        troubled.map((stop) => [stop]),
      ) ?? firstBetter(problem, orders, pairsOf(problem, orders, troubled, near));
  }
  return orders;
}

/** The orders after the first move that does any good: stops taken out and put in again, in turn. */
function firstBetter(
  problem: DayProblem,
  orders: Orders,
  moves: readonly (readonly number[])[],
): Orders | undefined {
  const harm = harmOf(problem, orders);
  for (const stops of moves) {
    const without = orders.map((order) => order.filter((each) => !stops.includes(each)));
    const moved = stops.reduce<Orders | undefined>(
      (before, stop) => before && putWell(problem, before, stop),
      without,
    );
    if (moved !== undefined && compareHarm(harmOf(problem, moved), harm) < 0) return moved;
  }
  return undefined;
}

/** Each stop in trouble with each of the others in trouble and of those near it, in both turns. */
function pairsOf(
  problem: DayProblem,
  orders: Orders,
  troubled: readonly number[],
  near: Nearness,
): number[][] {
  const placed = new Set(orders.flat());
  const isMovable = (stop: number) => placed.has(stop) && !isPinned(problem, stop);
  return troubled.flatMap((one) => {
    const neighbors = near.around(one).filter(isMovable).slice(0, NEIGHBORS);
    return [...new Set([...troubled, ...neighbors])]
      .filter((other) => other !== one)
      .flatMap((other) => [
        [one, other],
        [other, one],
      ]);
  });
}

function movable(problem: DayProblem, orders: Orders): number[] {
  return orders
    .filter((order, crew) => {
      const [lateMinutes, beyondMinutes] = harmOfRoute(problem, crew, order);
      return lateMinutes > 0 || beyondMinutes > 0;
    })
    .flat()
    .filter((stop) => !isPinned(problem, stop));
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
  return order.filter((stop) => isPinned(problem, stop)).length;
}

function isPinned(problem: DayProblem, stop: number): boolean {
  return entry(problem.limits, stop).pinnedStart !== undefined;
}
