import { dayProblem } from './day-problem.ts';
import { type Route, toldRoute } from './told-route.ts';
import type { Crew, Road, Stop } from './words.ts';

/**
 * A technician's day in the order given. Nobody leaves before the hours begin; work begins at the
 * arrival or when the window opens, whichever is later, and within one span of hours: work that
 * does not fit in before a break waits for the next span. What fits into no span begins on
 * arrival, and its minutes outside are told. Driving needs no hours, the way home least of all.
 * Whether the technician has the skills is not asked.
 *
 * @throws RangeError as `dayProblem` does.
 */
export function runRoute(crew: Crew, stops: readonly Stop[], road: Road): Route {
  const problem = dayProblem([crew], stops, road);
  const numbers = new Map(problem.stops.map(({ id }, number) => [id, number]));
  return toldRoute(
    problem,
    0,
    stops.flatMap(({ id }) => numbers.get(id) ?? []),
  );
}
