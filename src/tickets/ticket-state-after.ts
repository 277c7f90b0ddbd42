import {
  allowedActions,
  move,
  type TicketAction,
  type TicketState,
  ticketLifecycle,
} from '../lifecycles/index.ts';
import { ProblemError } from '../platform/http/problem.ts';

/**
 * The state that a step leads a ticket to.
 * @throws ProblemError 409 saying in plain words what keeps it, and what can be asked for instead
 */
export function ticketStateAfter(from: TicketState, action: TicketAction): TicketState {
  const step = move(ticketLifecycle, from, action);
  if (step.allowed) return step.to;
  throw new ProblemError('not-allowed-now', `${AS_IT_IS[from]} It cannot be ${TAKEN[action]}.`, {
    currentState: from,
    action,
    allowedActions: ticketRequests(from),
  });
}

/** What can be asked of a ticket itself in a state. Its other steps come with those of a visit. */
export function ticketRequests(state: TicketState): TicketAction[] {
  return allowedActions(ticketLifecycle, state).filter((action) => !WITH_A_VISIT.includes(action));
}

const WITH_A_VISIT: readonly TicketAction[] = [
  'arrive',
  'unbook',
  'await_part',
  'await_answer',
  'complete_work',
];

const AS_IT_IS: Record<TicketState, string> = {
  new: 'Nothing is booked for this ticket.',
  scheduled: 'A visit is booked for this ticket: go on with it, or cancel the visit first.',
  in_progress: 'A technician is there: finish the visit first.',
  waiting_for_part: 'This ticket waits for a part.',
  waiting_for_answer: 'This ticket waits for the customer’s answer.',
  work_complete: 'The work of this ticket is complete.',
  closed: 'This ticket is closed.',
  resolved_by_phone: 'This ticket was solved by phone.',
  cancelled: 'This ticket was cancelled.',
};

const TAKEN: Record<TicketAction, string> = {
  resolve_by_phone: 'solved by phone',
  book: 'booked',
  unbook: 'taken off the board',
  arrive: 'arrived at',
  await_part: 'left waiting for a part',
  await_answer: 'left waiting for an answer',
  complete_work: 'completed',
  close: 'closed',
  cancel: 'cancelled',
  reopen: 'reopened',
};
