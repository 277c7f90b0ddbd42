import { baseOf, canDo, type DayProblem, dayBegin, drive, entry } from './day-problem.ts';
import { type FollowedRoute, followRoute } from './follow-route.ts';
import { heldTo, type Orders } from './held-to.ts';
import { type Nearness, nearnessOf } from './nearness.ts';

/** How many of a stop's neighbors are tried together with it. */
const NEIGHBORS = 10;

/**
 * The day whose promises cannot all be kept, with limits that can: each promise that stands late,
 * or outside the hours, is held to that instead. In each of two beginnings, the promises that stand
 * nowhere are put where they do least harm; then those in trouble are moved, one or two at a time,
 * while that lessens the minutes late over all of them, then the minutes of work outside the hours,
 * then the road. The least found is a good one; that it is the least there is, is not proven. It is
 * never more than the present state has.
 *
 * @param present The orders of pinned and promised stops as they stand.
 * @param found The same as a search that kept all limits left them, some standing nowhere.
 * @param tries How many moves are tried at most, from each beginning.
 */
export function easeDay(
  problem: DayProblem,
  present: Orders,
  found: Orders,
  tries: number,
): { problem: DayProblem; orders: Orders } {
  const near = nearnessOf(problem);
  const eased = (orders: Orders) =>
    leastLate(problem, placedAll(problem, runsOf(problem, orders)), near, tries);
  const [before, after] = [eased(present), eased(found)];
  const best = compareHarm(harmOf(after), harmOf(before)) <= 0 ? after : before;
  const orders = best.map(({ order }) => order);
  return { problem: heldTo(problem, orders), orders };
}

/** One crew's order, and how it goes. */
interface Run extends FollowedRoute {
  readonly order: readonly number[];
}

/** What is wrong: the less, the better, from the first to the last. */
type Harm = readonly [lateMinutes: number, beyondMinutes: number, travelMinutes: number];

function runsOf(problem: DayProblem, orders: Orders): Run[] {
  return orders.map((order, crew) => runOf(problem, crew, order));
}

function runOf(problem: DayProblem, crew: number, order: readonly number[]): Run {
  return { order, ...followRoute(problem, crew, order) };
}

function harmOf(runs: readonly FollowedRoute[]): Harm {
  const total = (of: (each: FollowedRoute) => number) =>
    runs.reduce((sum, each) => sum + of(each), 0);
  return [
    total(({ lateMinutes }) => lateMinutes),
    total(({ beyondMinutes }) => beyondMinutes),
    total(({ travelMinutes }) => travelMinutes),
  ];
}

function compareHarm(one: Harm, other: Harm): number {
  return one[0] - other[0] || one[1] - other[1] || one[2] - other[2];
}

/** Puts the promises that stand nowhere where they do least harm, the earliest due first. */
function placedAll(problem: DayProblem, runs: readonly Run[]): readonly Run[] {
  const placed = new Set(runs.flatMap(({ order }) => order));
  const dueOf = (stop: number) => entry(problem.limits, stop).latest;
  return problem.stops
    .map((_, stop) => stop)
    .filter((stop) => entry(problem.stops, stop).promised && !placed.has(stop))
    .sort((one, other) => dueOf(one) - dueOf(other) || one - other)
    .reduce((before, stop) => putWell(problem, before, stop) ?? before, runs);
}

/** Moves promises out of routes in trouble, alone and then two at a time, while that does good. */
function leastLate(
  problem: DayProblem,
  given: readonly Run[],
  near: Nearness,
  tries: number,
): readonly Run[] {
  let runs = given;
  let left = tries;
  for (let isBetter = true; isBetter && left > 0; ) {
    isBetter = false;
    for (const stops of movesOf(problem, runs, near)) {
      if (left-- <= 0) break;
      const moved = movedWell(problem, runs, stops);
      if (moved === undefined) continue;
      runs = moved;
      isBetter = true;
    }
  }
  return runs;
}

/** The runs with stops taken out and put in again, in turn, if that does any good. */
function movedWell(
  problem: DayProblem,
  runs: readonly Run[],
  stops: readonly number[],
): readonly Run[] | undefined {
  const without = runs.map((run, crew) =>
    stops.some((stop) => run.order.includes(stop))
      ? runOf(
          problem,
          crew,
          run.order.filter((each) => !stops.includes(each)),
        )
      : run,
  );
  const moved = stops.reduce<readonly Run[] | undefined>(
    (before, stop) => before && putWell(problem, before, stop),
    without,
  );
  if (moved === undefined || compareHarm(harmOf(moved), harmOf(runs)) >= 0) return undefined;
  return moved;
}

/** Each stop of a route in trouble, and each with every one of its neighbors, in both turns. */
function movesOf(problem: DayProblem, runs: readonly Run[], near: Nearness): number[][] {
  const placed = new Set(runs.flatMap(({ order }) => order));
  const isMovable = (stop: number) => placed.has(stop) && !isPinned(problem, stop);
  const troubled = runs
    .filter(({ lateMinutes, beyondMinutes }) => lateMinutes > 0 || beyondMinutes > 0)
    .flatMap(({ order }) => order)
    .filter(isMovable);
  const pairs = troubled.flatMap((one) =>
    near
      .around(one)
      .filter((other) => other !== one && isMovable(other))
      .slice(0, NEIGHBORS)
      .flatMap((other) => [
        [one, other],
        [other, one],
      ]),
  );
  return [...troubled.map((stop) => [stop]), ...pairs];
}

/** The runs with a stop put where it does least harm; undefined where nobody can do it. */
function putWell(
  problem: DayProblem,
  runs: readonly Run[],
  stop: number,
): readonly Run[] | undefined {
  let best: { crew: number; run: Run; harm: Harm } | undefined;
  for (const [crew, before] of runs.entries()) {
    if (!canDo(problem, crew, stop)) continue;
    const first = before.order.filter((each) => isPinned(problem, each)).length;
    for (let position = first; position <= before.order.length; position++) {
      const least = leastHarm(problem, before, crew, stop, position);
      if (best !== undefined && compareHarm(least, best.harm) >= 0) continue;
      const run = runOf(problem, crew, before.order.toSpliced(position, 0, stop));
      const harm: Harm = [
        run.lateMinutes - before.lateMinutes,
        run.beyondMinutes - before.beyondMinutes,
        run.travelMinutes - before.travelMinutes,
      ];
      if (best === undefined || compareHarm(harm, best.harm) < 0) best = { crew, run, harm };
    }
  }
  return best && runs.with(best.crew, best.run);
}

/** What a stop adds at a position at least: its own lateness on arrival, and the drive. */
function leastHarm(
  problem: DayProblem,
  { order, stops }: Run,
  crew: number,
  stop: number,
  position: number,
): Harm {
  const base = baseOf(problem, crew);
  const [before, after] = [order[position - 1] ?? base, order[position] ?? base];
  const there = drive(problem, before, stop);
  const begin = dayBegin(entry(problem.crews, crew));
  const free = Math.max(begin, stops[position - 1]?.end ?? begin);
  const lateMinutes = Math.max(0, free + there - entry(problem.limits, stop).latest);
  return [lateMinutes, 0, there + drive(problem, stop, after) - drive(problem, before, after)];
}

function isPinned(problem: DayProblem, stop: number): boolean {
  return entry(problem.limits, stop).pinnedStart !== undefined;
}
