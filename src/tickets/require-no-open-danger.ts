import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { ticketRequests } from './ticket-state-after.ts';

/**
 * Refuses to go on with a locked ticket whose phone checks stopped in danger, until a person has
 * recorded how they know that it is over: nobody is sent into it, and nothing is called solved.
 * @throws ProblemError 409 naming the danger
 */
export async function requireNoOpenDanger(
  { tx }: { tx: Pick<Tx, 'phoneCheck'> },
  ticket: Pick<Ticket, 'id' | 'state'>,
  action: string,
): Promise<void> {
  const check = await tx.phoneCheck.findFirst({
    where: { ticketId: ticket.id, dangerCode: { not: null }, dangerOverAt: null },
    select: { dangerCode: true },
  });
  if (check === null) return;
  const stays = ['book', 'resolve_by_phone'];
  throw new ProblemError(
    'not-allowed-now',
    'The phone checks stopped in danger. First record how you know that it is over.',
    {
      currentState: ticket.state,
      action,
      danger: check.dangerCode,
      allowedActions: [
        ...ticketRequests(ticket.state).filter((each) => !stays.includes(each)),
        'record_danger_over',
      ],
    },
  );
}
