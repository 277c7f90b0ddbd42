import { type Lifecycle, move } from '../../lifecycles/index.ts';
import { ProblemError } from './problem.ts';

/**
 * The state an action leads to.
 * @param why what stands in its way, in words, where more can be said than that it is not possible
 * @throws ProblemError 409 naming the present state and what is allowed from it
 */
export function moveOrRefuse<State extends string, Action extends string>(
  what: string,
  lifecycle: Lifecycle<State, Action>,
  from: State,
  action: Action,
  why = `The ${what} stands at “${from.replaceAll('_', ' ')}”, and “${action.replaceAll('_', ' ')}” is not possible from there.`,
): State {
  const step = move(lifecycle, from, action);
  if (step.allowed) return step.to;
  throw new ProblemError('not-allowed-now', why, {
    currentState: from,
    action,
    allowedActions: step.allowedActions,
  });
}
