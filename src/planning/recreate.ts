import { cheapestInsertion, type Insertion } from './cheapest-insertion.ts';
import { type DayProblem, entry } from './day-problem.ts';
import { type KeptRoute, keptRoute } from './kept-route.ts';
import { type Plan, planOf } from './plan.ts';
import type { Ruined } from './ruin.ts';
import type { Chance } from './seeded-chance.ts';

/** Whose turn it is, when several stops wait for a place. */
export const turns = ['most_regret', 'heaviest', 'by_chance'] as const;
export type Turn = (typeof turns)[number];

/** A stop that waits, and what it would take in each route. */
interface Waiting {
  readonly stop: number;
  readonly promised: boolean;
  readonly weight: number;
  readonly ticket: number;
  readonly insertions: (Insertion | undefined)[];
  best: number;
  regretMinutes: number;
}

/**
 * Puts the absent stops into routes, each where it adds least to the road, promised ones before all
 * others. Among equals it is the turn of the one that would lose most by waiting (its second best
 * route adds so much more than its best), of the heaviest, or of any.
 */
export function recreate(
  problem: DayProblem,
  { routes: given, waiting: called, resting }: Ruined,
  turn: Turn,
  chance: Chance,
): Plan {
  const routes = [...given];
  const percent = passedOverPercent(problem.stops.length);
  const isPassedOver = () => percent > 0 && chance.below(100) < percent;
  const waiting = called.map((stop) => waitingFor(problem, routes, stop, chance, isPassedOver));
  for (;;) {
    const next = nextOf(waiting, turn);
    const insertion = next?.insertions[next.best];
    if (next === undefined || insertion === undefined) break;
    const { order } = entry(routes, next.best);
    const route = keptRoute(problem, next.best, order.toSpliced(insertion.position, 0, next.stop));
    if (route === undefined) throw new Error('An insertion that keeps all has broken a limit.');
    routes[next.best] = route;
    waiting.splice(waiting.indexOf(next), 1);
    for (const each of waiting) {
      each.insertions[next.best] = cheapestInsertion(problem, route, each.stop, isPassedOver);
      weigh(each);
    }
  }
  return planOf(problem, routes, [...resting, ...waiting.map(({ stop }) => stop)]);
}

/**
 * How many of a hundred better places are passed over, so that the best at the moment is not always
 * the one taken. A small day, where there is little to choose among, needs it; in a large one it
 * would only do damage. The figures are from trial.
 */
function passedOverPercent(stops: number): number {
  return Math.min(20, Math.round(200 / stops));
}

function waitingFor(
  problem: DayProblem,
  routes: readonly KeptRoute[],
  stop: number,
  chance: Chance,
  isPassedOver: () => boolean,
): Waiting {
  const { promised, weight } = entry(problem.stops, stop);
  const insertions = routes.map((route) => cheapestInsertion(problem, route, stop, isPassedOver));
  const ticket = chance.below(2 ** 32);
  const waiting = { stop, promised, weight, ticket, insertions, best: -1, regretMinutes: 0 };
  weigh(waiting);
  return waiting;
}

/** Finds the best route anew, and by how much the second best is worse. */
function weigh(waiting: Waiting): void {
  let best = Number.POSITIVE_INFINITY;
  let second = Number.POSITIVE_INFINITY;
  waiting.best = -1;
  for (const [crew, insertion] of waiting.insertions.entries()) {
    if (insertion === undefined) continue;
    if (insertion.addedMinutes < best) {
      second = best;
      best = insertion.addedMinutes;
      waiting.best = crew;
    } else if (insertion.addedMinutes < second) {
      second = insertion.addedMinutes;
    }
  }
  waiting.regretMinutes = second - best;
}

/** Of those that fit anywhere, the one whose turn it is. */
function nextOf(waiting: readonly Waiting[], turn: Turn): Waiting | undefined {
  let next: Waiting | undefined;
  for (const each of waiting) {
    if (each.best !== -1 && (next === undefined || isBefore(each, next, turn))) next = each;
  }
  return next;
}

function isBefore(one: Waiting, other: Waiting, turn: Turn): boolean {
  if (one.promised !== other.promised) return one.promised;
  if (turn === 'heaviest' && one.weight !== other.weight) return one.weight > other.weight;
  if (turn !== 'by_chance' && one.regretMinutes !== other.regretMinutes) {
    return one.regretMinutes > other.regretMinutes;
  }
  return one.ticket === other.ticket ? one.stop < other.stop : one.ticket < other.ticket;
}
