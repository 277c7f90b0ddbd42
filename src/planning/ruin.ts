import { type DayProblem, entry } from './day-problem.ts';
import { type KeptRoute, keptRoute } from './kept-route.ts';
import type { Nearness } from './nearness.ts';
import type { Plan } from './plan.ts';
import type { Chance } from './seeded-chance.ts';

/** How many stops are taken out on average, and the longest string out of one route. */
const MEAN_REMOVED = 10;
const LONGEST_STRING = 10;

/** What is left of a plan, the stops that wait for a place in it, and those that are let be. */
export interface Ruined {
  readonly routes: readonly KeptRoute[];
  readonly waiting: readonly number[];
  readonly resting: readonly number[];
}

/**
 * Takes strings of neighboring stops out of routes that pass near one place: what is near together
 * can be put together anew. After J. Christiaens and G. Vanden Berghe, "Slack Induction by String
 * Removals for Vehicle Routing Problems", Transportation Science 54 (2020), section 5.1. Of the
 * absent, those nearest to the place wait as well.
 */
export function ruin(problem: DayProblem, plan: Plan, near: Nearness, chance: Chance): Ruined {
  const nearest = near.around(chance.below(problem.stops.length));
  const { longest, strings } = sizes(plan, chance);
  const routes = [...plan.routes];
  const removed: number[] = [];
  const ruined = new Set<number>();
  for (const stop of nearest) {
    if (ruined.size === strings) break;
    const crew = plan.holders[stop] ?? -1;
    if (crew === -1 || ruined.has(crew)) continue;
    const { order, pinned } = entry(routes, crew);
    const length = 1 + chance.below(Math.min(longest, order.length - pinned));
    const from = stringStart(order.indexOf(stop), length, pinned, order.length, chance);
    const kept = keptRoute(problem, crew, order.toSpliced(from, length));
    // Without a stop all others come no later, so nothing that was kept is broken by it.
    if (kept === undefined)
      throw new Error('A route without some of its stops has broken a limit.');
    removed.push(...order.slice(from, from + length));
    routes[crew] = kept;
    ruined.add(crew);
  }
  const called = calledUp(problem, plan, nearest);
  return {
    routes,
    waiting: [...removed, ...called],
    resting: plan.absent.filter((stop) => !called.has(stop)),
  };
}

/** How long a string may be, and how many routes lose one. */
function sizes({ routes }: Plan, chance: Chance): { longest: number; strings: number } {
  const lengths = routes
    .map(({ order, pinned }) => order.length - pinned)
    .filter((each) => each > 0);
  const mean = lengths.reduce((sum, each) => sum + each, 0) / Math.max(1, lengths.length);
  const longest = Math.min(LONGEST_STRING, Math.max(1, Math.ceil(2 * mean)));
  return { longest, strings: 1 + chance.below(Math.ceil((4 * MEAN_REMOVED) / (1 + longest))) };
}

/** The absent that are tried again: the nearest of the promised, and the nearest of the others. */
function calledUp(problem: DayProblem, plan: Plan, nearest: readonly number[]): Set<number> {
  if (plan.absent.length === 0) return new Set();
  const absent = new Set(plan.absent);
  const near = nearest.filter((stop) => absent.has(stop));
  const isPromised = (stop: number) => entry(problem.stops, stop).promised;
  return new Set([
    ...near.filter(isPromised).slice(0, MEAN_REMOVED),
    ...near.filter((stop) => !isPromised(stop)).slice(0, MEAN_REMOVED),
  ]);
}

/** A place for a string of that length to begin, so that it holds the position. */
function stringStart(
  position: number,
  length: number,
  pinned: number,
  stops: number,
  chance: Chance,
): number {
  const first = Math.max(pinned, position - length + 1);
  const last = Math.min(position, stops - length);
  return first + chance.below(last - first + 1);
}
