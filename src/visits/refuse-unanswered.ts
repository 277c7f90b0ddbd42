import { sqlOf } from '../platform/database/database.ts';
import { ProblemError } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';

/**
 * Refuses to finish a visit with the work of its locked ticket called complete while a customer can
 * still say yes to a quote of it: nobody would hear of that yes.
 * @throws ProblemError 409 naming the quote
 */
export async function refuseUnanswered({ tx, now }: ActContext, ticketId: string): Promise<void> {
  const { rows } = await sqlOf(tx).query<{ number: number }>(UNANSWERED, [ticketId, now]);
  const [open] = rows;
  if (open === undefined) return;
  throw new ProblemError(
    'not-allowed-now',
    `Quote ${open.number} has no answer yet. Take the answer first, or finish with the ticket waiting for it.`,
    { currentState: 'on_site', action: 'finish', allowedActions: ['finish'] },
  );
}

const UNANSWERED = `
  SELECT q.number FROM quote q
  JOIN quote_state s ON s.quote_id = q.id AND s.state = 'issued'
  JOIN quote_issue i ON i.quote_id = s.quote_id AND i.revision = s.revision
  WHERE q.ticket_id = $1 AND i.valid_until > $2
  ORDER BY q.number LIMIT 1`;
