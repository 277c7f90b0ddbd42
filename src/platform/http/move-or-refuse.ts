import { type Lifecycle, move } from '../../lifecycles/index.ts';
import { ProblemError } from './problem.ts';

/**
 * The state an action leads to.
 * @throws ProblemError 409 naming the present state and what is allowed from it
 */
export function moveOrRefuse<State extends string, Action extends string>(
  what: string,
  lifecycle: Lifecycle<State, Action>,
  from: State,
  action: Action,
): State {
  const step = move(lifecycle, from, action);
  if (step.allowed) return step.to;
  throw new ProblemError(
    'not-allowed-now',
    `The ${what} is ${from.replaceAll('_', ' ')}; ${action.replaceAll('_', ' ')} is not possible.`,
    { currentState: from, action, allowedActions: step.allowedActions },
  );
}
