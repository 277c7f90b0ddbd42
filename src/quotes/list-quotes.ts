import type { QuoteState } from '../lifecycles/index.ts';
import type { Sql } from '../platform/database/database.ts';
import { inEitherOrder, type Order } from '../platform/http/page.ts';

/** A quote in a list. */
export interface QuoteSummary {
  id: string;
  number: number;
  ticketId: string;
  visitId: string;
  revision: number;
  state: QuoteState;
}

/** Quotes with the revision that each is now (see `latestOf`), ordered by identifier so that pages hold. */
export async function listQuotes(
  sql: Sql,
  filter: {
    ticketId: string | undefined;
    technicianId: string | undefined;
    order: Order;
    after: string | undefined;
    limit: number;
  },
): Promise<QuoteSummary[]> {
  const found = await sql.query<QuoteSummary>(LIST[filter.order], [
    filter.ticketId ?? null,
    filter.technicianId ?? null,
    filter.after ?? null,
    filter.limit,
  ]);
  return found.rows;
}

const LIST = inEitherOrder(
  (beyond, sort) => `
  SELECT q.id, q.number, q.ticket_id AS "ticketId", q.visit_id AS "visitId",
    latest.revision, latest.state
  FROM quote q
  CROSS JOIN LATERAL (
    SELECT revision, state FROM quote_state s
    WHERE s.quote_id = q.id
    ORDER BY state IN ('accepted', 'declined') DESC, revision DESC LIMIT 1) latest
  WHERE ($1::uuid IS NULL OR q.ticket_id = $1)
    AND ($2::uuid IS NULL OR EXISTS (SELECT 1 FROM visit own WHERE own.ticket_id = q.ticket_id
      AND own.technician_id = $2 AND own.state <> 'cancelled'))
    AND ($3::uuid IS NULL OR q.id ${beyond} $3)
  ORDER BY q.id ${sort} LIMIT $4`,
);
