import type { DayProblem } from './day-problem.ts';
import { nearnessOf } from './nearness.ts';
import { comparePlans, compareServed, type Plan } from './plan.ts';
import { recreate, turns } from './recreate.ts';
import { type Ruined, ruin } from './ruin.ts';
import { seededChance } from './seeded-chance.ts';

/**
 * Rounds that do for a day of nine stops, where more find nothing better, and for one of nine
 * hundred, where more still would: how much, `npm run bench planning` tells.
 */
export const usualRounds = 2_000;

/** How hard a plan is searched for. */
export interface Effort {
  /** Any whole number; another one may find another plan of the same worth. */
  readonly seed: number;
  /** How often a part of the plan is taken out and put in anew. */
  readonly rounds: number;
}

/** How much longer than the best road a plan may be at first, and still be gone on with. */
const DETOUR_MINUTES = 120;

/**
 * Betters a plan by taking parts of it out and putting them in anew, round after round. It goes on
 * with a plan that is a little longer than the best, ever less so, to get out of dead ends; a plan
 * that serves less it never goes on with. The number of rounds ends it, not a clock, so that the
 * same day gives the same plan on every machine.
 */
export function searchPlan(problem: DayProblem, start: Plan, { seed, rounds }: Effort): Plan {
  const chance = seededChance(seed);
  const near = nearnessOf(problem);
  let best = recreate(problem, allWaiting(start), 'heaviest', chance);
  if (problem.stops.length === 0) return best;
  let current = best;
  for (let round = 0; round < rounds; round++) {
    const turn = turns[chance.below(turns.length)] ?? 'most_regret';
    const next = recreate(problem, ruin(problem, current, near, chance), turn, chance);
    const served = compareServed(next, current);
    const bound = best.travelMinutes + DETOUR_MINUTES * (1 - round / rounds);
    if (served < 0 || (served === 0 && next.travelMinutes <= bound)) current = next;
    if (comparePlans(next, best) < 0) best = next;
  }
  return best;
}

function allWaiting({ routes, absent }: Plan): Ruined {
  return { routes, waiting: absent, resting: [] };
}
