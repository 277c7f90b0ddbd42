import type { Actor } from '../platform/access/actor.ts';
import type { Sql } from '../platform/database/database.ts';
import { inEitherOrder, type Order } from '../platform/http/page.ts';

/** An invoice in a list; without number, days and amounts while it is a draft. */
export interface InvoiceSummary {
  id: string;
  number: number | null;
  ticketId: string;
  closingId: string;
  payerId: string;
  state: 'draft' | 'issued' | 'settled';
  issuedAt: Date | null;
  dueOn: string | null;
  totalCents: number | null;
  balanceCents: number | null;
}

/** Invoices, ordered by identifier so that pages hold; a technician sees those of own tickets. */
export async function listInvoices(
  sql: Sql,
  { role, id }: Actor,
  filter: {
    ticketId: string | undefined;
    payerId: string | undefined;
    state: string[] | undefined;
    order: Order;
    after: string | undefined;
    limit: number;
  },
): Promise<InvoiceSummary[]> {
  const { rows } = await sql.query<InvoiceSummary>(LIST[filter.order], [
    filter.ticketId ?? null,
    filter.payerId ?? null,
    filter.state ?? null,
    role === 'technician' ? id : null,
    filter.after ?? null,
    filter.limit,
  ]);
  return rows;
}

const LIST = inEitherOrder(
  (beyond, sort) => `
  SELECT i.id, n.number, i.ticket_id AS "ticketId", i.closing_id AS "closingId",
    i.payer_id AS "payerId", s.state, n.issued_at AS "issuedAt", n.due_on::text AS "dueOn",
    n.total_cents AS "totalCents", invoice_balance(i.id)::int AS "balanceCents"
  FROM invoice i
  JOIN invoice_state s ON s.invoice_id = i.id
  LEFT JOIN invoice_issue n ON n.invoice_id = i.id
  WHERE ($1::uuid IS NULL OR i.ticket_id = $1)
    AND ($2::uuid IS NULL OR i.payer_id = $2)
    AND ($3::text[] IS NULL OR s.state::text = ANY ($3))
    AND ($4::uuid IS NULL OR EXISTS (SELECT 1 FROM visit v
      WHERE v.ticket_id = i.ticket_id AND v.technician_id = $4 AND v.state <> 'cancelled'))
    AND ($5::uuid IS NULL OR i.id ${beyond} $5)
  ORDER BY i.id ${sort} LIMIT $6`,
);
