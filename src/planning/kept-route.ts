import { baseOf, type DayProblem, dayBegin, drive, entry } from './day-problem.ts';
import { firstStart, lastStart } from './start-times.ts';

/** One crew's day with every limit kept. It never changes: another order is another route. */
export interface KeptRoute {
  readonly crew: number;
  readonly order: readonly number[];
  /** How many of the first stops are pinned. */
  readonly pinned: number;
  /** When the crew is free to leave for the stop at each position, and after the last one. */
  readonly frees: readonly number[];
  /** The latest arrival at each stop with which it and all after it are still kept. */
  readonly lasts: readonly number[];
  /** The way home included. */
  readonly travelMinutes: number;
}

/**
 * A route in an order, or undefined where a limit would not be kept. Pinned stops come first and
 * begin when they begin, whatever their windows and hours were.
 */
export function keptRoute(
  problem: DayProblem,
  crew: number,
  order: readonly number[],
): KeptRoute | undefined {
  const { hours } = entry(problem.crews, crew);
  const begin = dayBegin(entry(problem.crews, crew));
  const base = baseOf(problem, crew);
  const frees = [begin];
  let pinned = 0;
  let travelMinutes = 0;
  let place = base;
  let free = begin;
  for (const stop of order) {
    const limits = entry(problem.limits, stop);
    const driveMinutes = drive(problem, place, stop);
    const start = limits.pinnedStart ?? firstStart(hours, limits, free + driveMinutes);
    if (start === Number.POSITIVE_INFINITY) return undefined;
    if (limits.pinnedStart !== undefined) pinned++;
    free = Math.max(begin, start + limits.minutes);
    frees.push(free);
    travelMinutes += driveMinutes;
    place = stop;
  }
  travelMinutes += drive(problem, place, base);
  return { crew, order, pinned, frees, lasts: lastsOf(problem, crew, order), travelMinutes };
}

/** A crew's day before anything is in it. */
export function emptyRoute(problem: DayProblem, crew: number): KeptRoute {
  const begin = dayBegin(entry(problem.crews, crew));
  return { crew, order: [], pinned: 0, frees: [begin], lasts: [], travelMinutes: 0 };
}

function lastsOf(problem: DayProblem, crew: number, order: readonly number[]): number[] {
  const { hours } = entry(problem.crews, crew);
  const lasts = order.map(() => 0);
  let bound = Number.POSITIVE_INFINITY;
  for (let position = order.length - 1; position >= 0; position--) {
    const stop = entry(order, position);
    const last = lastStart(hours, entry(problem.limits, stop), bound);
    lasts[position] = last;
    const before = order[position - 1];
    if (before === undefined) break;
    bound = last - drive(problem, before, stop) - entry(problem.limits, before).minutes;
  }
  return lasts;
}
