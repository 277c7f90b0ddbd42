import { ProblemError } from '../platform/http/problem.ts';

/**
 * Refuses to take back what is taken back already: a conditional update found no row to change.
 * @throws ProblemError 409 unless one row was changed
 */
export function refuseTakenBack({ count }: { count: number }): void {
  if (count === 1) return;
  throw new ProblemError('not-allowed-now', 'It was taken back before.', {
    currentState: 'withdrawn',
    action: 'withdraw',
    allowedActions: [],
  });
}
