import { ProblemError } from '../platform/http/problem.ts';

/** What everybody is told who would work here before the owner has said who the company is. */
export function notSetUp(): ProblemError {
  return new ProblemError(
    'not-allowed-now',
    'The owner says first who the company is: POST /v1/company.',
    { currentState: 'not_set_up', allowedActions: ['setUpCompany'] },
  );
}
