import { baseOf, canDo, type DayProblem, drive, entry } from './day-problem.ts';
import type { KeptRoute } from './kept-route.ts';
import { firstStart } from './start-times.ts';

/** What it takes to put a stop into a route before the one at a position. */
export interface Insertion {
  readonly position: number;
  readonly addedMinutes: number;
}

/**
 * The insertion of a stop that adds least to the road, or undefined where no position keeps all;
 * of equal ones the first. Each position takes the same few steps, however long the route.
 *
 * @param isPassedOver Asked before each position that would be better than the best so far.
 */
export function cheapestInsertion(
  problem: DayProblem,
  route: KeptRoute,
  stop: number,
  isPassedOver: () => boolean = never,
): Insertion | undefined {
  if (!canDo(problem, route.crew, stop)) return undefined;
  const { order, frees, lasts } = route;
  const { hours } = entry(problem.crews, route.crew);
  const limits = entry(problem.limits, stop);
  const base = baseOf(problem, route.crew);
  let best: Insertion | undefined;
  for (let position = route.pinned; position <= order.length; position++) {
    const free = frees[position] ?? Number.POSITIVE_INFINITY;
    if (free > limits.latest) break;
    const lastAfter = lasts[position] ?? Number.POSITIVE_INFINITY;
    if (limits.earliest + limits.minutes > lastAfter) continue;
    const before = order[position - 1] ?? base;
    const after = order[position] ?? base;
    const there = drive(problem, before, stop);
    const on = drive(problem, stop, after);
    const addedMinutes = there + on - drive(problem, before, after);
    if (best !== undefined && addedMinutes >= best.addedMinutes) continue;
    if (isPassedOver()) continue;
    const start = firstStart(hours, limits, free + there);
    if (start === Number.POSITIVE_INFINITY) continue;
    if (start + limits.minutes + on <= lastAfter) best = { position, addedMinutes };
  }
  return best;
}

function never(): boolean {
  return false;
}
