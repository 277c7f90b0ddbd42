import { ProblemError } from '../platform/http/problem.ts';
import { isExpired, latestOf, type RevisionState } from './lock-quote.ts';
import { quoteRequests } from './quote-state-after.ts';

/**
 * The revision that stands with the customer and can be answered.
 * @throws ProblemError 409 when none is issued; or, for a yes, when its validity has ended (a no
 *   is always welcome)
 */
export function standingRevision(
  revisions: readonly RevisionState[],
  action: 'accept' | 'decline',
  now: Date,
): RevisionState {
  const standing = revisions.find(({ state }) => state === 'issued');
  if (standing === undefined) {
    const { state } = latestOf(revisions);
    throw new ProblemError('not-allowed-now', `The quote is ${state}; it cannot be answered.`, {
      currentState: state,
      action,
      allowedActions: quoteRequests(state),
    });
  }
  if (action === 'accept' && isExpired(standing, now)) {
    throw new ProblemError('quote-expired', 'The quote has expired. Ask for a new one.', {
      validUntil: standing.validUntil?.toISOString(),
    });
  }
  return standing;
}
