import { type DayProblem, drive } from './day-problem.ts';

/** Every stop's others, the nearest first. */
export interface Nearness {
  around(stop: number): readonly number[];
}

export function nearnessOf(problem: DayProblem): Nearness {
  const known: (readonly number[] | undefined)[] = [];
  return {
    around(stop) {
      const list =
        known[stop] ??
        problem.stops
          .map((_, other) => other)
          .sort(
            (one, other) => drive(problem, stop, one) - drive(problem, stop, other) || one - other,
          );
      known[stop] = list;
      return list;
    },
  };
}
