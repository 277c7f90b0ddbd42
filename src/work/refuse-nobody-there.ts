import type { Visit } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { AgreedWork } from './agreed-work.ts';

/**
 * Refuses work at a visit that was over before the yes to it: whoever did it came back, and that is
 * another visit.
 * @throws ProblemError 409
 */
export function refuseNobodyThere(
  { leftAt, state }: Pick<Visit, 'leftAt' | 'state'>,
  { acceptedAt }: Pick<AgreedWork, 'acceptedAt'>,
): void {
  if (leftAt === null || leftAt >= acceptedAt) return;
  throw new ProblemError(
    'not-allowed-now',
    'The yes came after this visit was over, so the work was not done at it. Record it at the visit at which it is done.',
    { currentState: state, allowedActions: [] },
  );
}
