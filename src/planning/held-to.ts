import { type DayProblem, entry } from './day-problem.ts';
import { followRoute } from './follow-route.ts';

/** By crew, its stops in order. */
export type Orders = readonly (readonly number[])[];

/**
 * The day with limits that these orders keep: what stands late, or outside the hours, in them is
 * held to that instead. Where nothing does, the day stays as it is.
 */
export function heldTo(problem: DayProblem, orders: Orders): DayProblem {
  const limits = [...problem.limits];
  for (const [crew, order] of orders.entries()) {
    for (const { stop, start, beyondMinutes } of followRoute(problem, crew, order).stops) {
      const own = entry(problem.limits, stop);
      limits[stop] = {
        ...own,
        latest: Math.max(own.latest, start),
        beyondHours: beyondMinutes > 0,
      };
    }
  }
  return { ...problem, limits };
}
