import type { Tx } from '../platform/database/database.ts';
import type { Ticket } from '../platform/database/generated/client.ts';
import { ProblemError } from '../platform/http/problem.ts';
import { endedStates } from './ended-states.ts';
import { ticketRequests } from './ticket-state-after.ts';

/** Acts that lead somebody into the home. */
const leadsThere = ['book', 'rebook', 'start_travel'];

/**
 * Refuses to go on with a locked ticket while a danger that the phone checks were told of is open:
 * until a person has recorded how they know that it is over, nobody is sent into it, and nothing is
 * called solved. Gas is in the home and not in the ticket: where somebody would be sent there, one
 * that was told on another ticket of the home counts, as long as that ticket lives.
 * @throws ProblemError 409 naming the danger, and the ticket on which it was told
 */
export async function requireNoOpenDanger(
  { tx }: { tx: Pick<Tx, 'phoneCheck'> },
  ticket: Pick<Ticket, 'id' | 'siteId' | 'state'>,
  action: string,
): Promise<void> {
  const own = { ticketId: ticket.id };
  const check = await tx.phoneCheck.findFirst({
    where: {
      ...{ dangerCode: { not: null }, dangerOverAt: null },
      ...(leadsThere.includes(action) ? { OR: [own, ofHome(ticket)] } : own),
    },
    select: { dangerCode: true, ticket: { select: { id: true, number: true } } },
    orderBy: { id: 'asc' },
  });
  if (check === null) return;
  const stays = ['book', 'resolve_by_phone'];
  const isOwn = check.ticket.id === ticket.id;
  throw new ProblemError('not-allowed-now', isOwn ? TOLD_HERE : toldOn(check.ticket.number), {
    currentState: ticket.state,
    action,
    danger: check.dangerCode,
    ...(!isOwn && { dangerTicketId: check.ticket.id }),
    allowedActions: [
      ...ticketRequests(ticket.state).filter((each) => !stays.includes(each)),
      ...(isOwn ? ['record_danger_over'] : []),
    ],
  });
}

function ofHome({ siteId }: Pick<Ticket, 'siteId'>) {
  return { ticket: { siteId, state: { notIn: endedStates } } };
}

const TOLD_HERE = 'The phone checks stopped in danger. First record how you know that it is over.';

function toldOn(ticketNumber: number): string {
  return `Danger was told of this home on ticket ${ticketNumber}. First record there how you know that it is over.`;
}
