import {
  allowedActions,
  move,
  type QuoteAction,
  type QuoteState,
  quoteLifecycle,
} from '../lifecycles/index.ts';
import { ProblemError } from '../platform/http/problem.ts';

/**
 * The state that a step leads a revision of a quote to.
 * @throws ProblemError 409 saying in plain words what keeps it, and what can be asked for instead
 */
export function quoteStateAfter(from: QuoteState, action: QuoteAction): QuoteState {
  const step = move(quoteLifecycle, from, action);
  if (step.allowed) return step.to;
  throw new ProblemError('not-allowed-now', `${AS_IT_IS[from]} It cannot be ${TAKEN[action]}.`, {
    currentState: from,
    action,
    allowedActions: quoteRequests(from),
  });
}

/** What can be asked of a quote in a state: a revision is superseded by revising the quote. */
export function quoteRequests(state: QuoteState): (Exclude<QuoteAction, 'supersede'> | 'revise')[] {
  return allowedActions(quoteLifecycle, state).map((action) =>
    action === 'supersede' ? 'revise' : action,
  );
}

const AS_IT_IS: Record<QuoteState, string> = {
  draft: 'This quote is a draft.',
  issued: 'This quote is with the customer.',
  accepted: 'This quote is accepted.',
  declined: 'This quote was declined.',
  withdrawn: 'This quote was withdrawn.',
  superseded: 'This revision was replaced by a newer one.',
};

const TAKEN: Record<QuoteAction, string> = {
  issue: 'issued',
  accept: 'accepted',
  decline: 'declined',
  withdraw: 'withdrawn',
  supersede: 'revised',
};
