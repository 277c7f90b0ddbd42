import { allowedActions, ticketLifecycle } from '../lifecycles/index.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lastClosing } from '../tickets/index.ts';
import type { VisitPurpose } from './contract.ts';

/**
 * Refuses a trip for a purpose that its locked ticket does not have: a reopened ticket is a
 * callback until it is closed again, whatever it waits for, and coming back for work needs a yes
 * to that work.
 * @throws ProblemError 409 naming the purposes the ticket has now
 */
export async function refusePurpose(
  act: ActContext,
  ticket: Ticket,
  purpose: VisitPurpose,
): Promise<void> {
  const fitting = await purposesOf(act, ticket);
  if (fitting.includes(purpose)) return;
  throw new ProblemError('not-allowed-now', WHY_NOT[purpose], {
    currentState: ticket.state,
    action: 'book',
    allowedActions: allowedActions(ticketLifecycle, ticket.state),
    allowedPurposes: fitting,
  });
}

const WHY_NOT: Record<VisitPurpose, string> = {
  call: 'This ticket was reopened: look at it again without a fee, as a callback.',
  return: 'Nobody comes back for work that was not accepted.',
  callback: 'Only a reopened ticket has callbacks.',
};

async function purposesOf({ tx }: ActContext, ticket: Ticket): Promise<VisitPurpose[]> {
  if ((await lastClosing(tx, ticket.id))?.isReopened) return ['callback'];
  const accepted = await tx.quoteAcceptance.findFirst({
    where: { quote: { ticketId: ticket.id }, cancellation: null },
    select: { quoteId: true },
  });
  return accepted === null ? ['call'] : ['call', 'return'];
}
