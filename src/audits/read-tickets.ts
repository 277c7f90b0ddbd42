import type { JobFacts } from '../auditing/index.ts';

/** A ticket that is over. */
export interface EndedTicket {
  readonly id: string;
  readonly ended: Exclude<JobFacts['ended'], 'billed'>;
  readonly jurisdiction: string;
  /** When it was last closed, or cancelled, or resolved. */
  readonly endedAt: Date;
}

export interface TicketRow extends Omit<EndedTicket, 'endedAt'> {
  readonly endedAt: string;
}

export function endedTicket({ endedAt, ...ticket }: TicketRow): EndedTicket {
  return { ...ticket, endedAt: new Date(endedAt) };
}

/** Those of some tickets that are over. */
// Only a closing has a row of its own; how else a ticket ended is told by the journal.
export const TICKETS = `
  SELECT t.id, t.state::text AS ended, s.jurisdiction, coalesce(
    CASE WHEN t.state = 'closed' THEN
      (SELECT max(c.closed_at) FROM ticket_closing c WHERE c.ticket_id = t.id) END,
    (SELECT max(e.at) FROM journal_entry e WHERE e.subject_kind = 'ticket'
      AND e.subject_id = t.id::text AND e.event = 'ticket.moved'),
    t.first_closed_at, t.created_at) AS "endedAt"
  FROM ticket t JOIN site s ON s.id = t.site_id
  WHERE t.id = ANY ($1) AND t.state IN ('closed', 'cancelled', 'resolved_by_phone')
  ORDER BY t.id`;
