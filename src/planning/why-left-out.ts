import { cheapestInsertion } from './cheapest-insertion.ts';
import { canDo, type DayProblem } from './day-problem.ts';
import { emptyRoute } from './kept-route.ts';

/**
 * Why a stop stands in no route: nobody has the skills and the helpers; who has them could not come
 * in time from the base and would work in time if the place were next door; there was no room
 * beside the others.
 */
export const leftOutReasons = ['no_skill', 'too_far', 'no_time'] as const;
export type LeftOutReason = (typeof leftOutReasons)[number];

export function whyLeftOut(problem: DayProblem, stop: number): LeftOutReason {
  const fit = problem.crews.map((_, crew) => crew).filter((crew) => canDo(problem, crew, stop));
  if (fit.length === 0) return 'no_skill';
  const nextDoor = { ...problem, drives: new Int32Array(problem.drives.length) };
  const isAloneIn = (day: DayProblem, crew: number) =>
    cheapestInsertion(day, emptyRoute(day, crew), stop) !== undefined;
  if (fit.some((crew) => isAloneIn(problem, crew))) return 'no_time';
  return fit.some((crew) => isAloneIn(nextDoor, crew)) ? 'too_far' : 'no_time';
}
