import type { z } from 'zod';
import { appendJournal } from '../journal/index.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { lockTicket } from '../tickets/index.ts';
import type { priorityOverrideSchema } from './contract.ts';
import { isWaiting } from './waiting-states.ts';

/**
 * Gives a waiting ticket a rank by hand, or lifts one. It stays on record with its reason.
 * @throws ProblemError 404; 409 for a ticket that nobody waits on any more
 */
export async function overridePriority(
  act: ActContext,
  ticketId: string,
  { rank, reason }: z.output<typeof priorityOverrideSchema>,
): Promise<void> {
  const ticket = await lockTicket(act, ticketId);
  if (!isWaiting(ticket.state)) {
    throw new ProblemError('not-allowed-now', 'Nobody waits on this ticket any more.', {
      currentState: ticket.state,
      action: 'rank',
      allowedActions: [],
    });
  }
  const id = act.newId();
  await act.tx.priorityOverride.create({
    data: { id, ticketId, rank, reason, createdAt: act.now, createdById: act.actor.id },
  });
  await appendJournal(act, {
    event: 'priority.given',
    subject: { kind: 'ticket', id: ticketId },
    after: { rank },
  });
}
