import { z } from 'zod';
import { agingOf } from '../billing/index.ts';
import { companyOf, localDay, localDays } from '../company/index.ts';
import { cutPageByKey, startAfterKey } from '../platform/http/page.ts';
import type { receivablesSchema } from './contract.ts';
import type { Store } from './store.ts';

/** What is asked for: a day, and a page of the invoices that were open on it. */
export interface Asked {
  asOf?: string | undefined;
  limit: number;
  cursor?: string | undefined;
}

/** An issued invoice on which something was owed, either way, at the end of a day. */
interface FoundInvoice {
  id: string;
  number: number;
  ticketId: string;
  payerId: string;
  payerName: string;
  payerPhone: string;
  dueOn: string;
  balanceCents: number;
}

/**
 * What customers owe at the end of a local day, by how long it has been due: today unless asked.
 * What we owe them is said beside it and takes nothing off: other people's money pays no bill.
 * @throws ProblemError 400 for a cursor of another day
 */
export async function receivables(
  { prisma, sql }: Store,
  { asOf: asked, limit, cursor }: Asked,
  now: Date,
): Promise<z.input<typeof receivablesSchema>> {
  const { timeZone } = await companyOf(prisma);
  const asOf = asked ?? localDay(now, timeZone);
  const { to } = localDays(asOf, asOf, timeZone);
  // At the end of a day that is not over, every invoice is as it is now.
  const open = to > now ? OPEN_NOW : OPEN_THEN;
  const sums = await sql.query<{ dueOn: string; balanceCents: number }>(SUMS(open), [to]);
  const { balances: _, ...owed } = agingOf(sums.rows, asOf);
  const listing = { list: 'receivables', asOf };
  const [dueOn, number] = startAfterKey(cursor, listing, keySchema)?.split(' ') ?? [];
  const after = [dueOn ?? null, number === undefined ? null : Number(number)];
  const { rows } = await sql.query<FoundInvoice>(LIST(open), [to, ...after, limit + 1]);
  const page = cutPageByKey(rows, limit, listing, keyOf);
  const invoices = [...agingOf(page.items, asOf).balances];
  return { asOf, ...owed, invoices, nextCursor: page.nextCursor };
}

/** The order of the list: the longest due first. */
function keyOf({ dueOn, number }: FoundInvoice): string {
  return `${dueOn} ${number}`;
}

const keySchema = z.string().regex(/^\d{4}-\d{2}-\d{2} \d+$/);

const OPEN_NOW = `
  SELECT s.invoice_id, n.number, n.due_on, invoice_balance(s.invoice_id) AS balance
  FROM invoice_state s
  JOIN invoice_issue n ON n.invoice_id = s.invoice_id
  WHERE s.state = 'issued' AND n.issued_at < $1`;

// Whatever was settled before that moment and not touched since was settled at that moment too.
const OPEN_THEN = `
  SELECT s.invoice_id, n.number, n.due_on, stood.balance
  FROM invoice_state s
  JOIN invoice_issue n ON n.invoice_id = s.invoice_id
  CROSS JOIN LATERAL (SELECT n.total_cents
    - coalesce((SELECT sum(m.total_cents) FROM credit_memo m
        WHERE m.invoice_id = n.invoice_id AND m.issued_at < $1), 0)
    - coalesce((SELECT sum(p.amount_cents) FROM payment p
        WHERE p.invoice_id = n.invoice_id AND p.received_at < $1
          AND NOT EXISTS (SELECT 1 FROM payment_void v
            WHERE v.payment_id = p.id AND v.voided_at < $1)), 0)
    + coalesce((SELECT sum(r.amount_cents) FROM refund r
        WHERE r.invoice_id = n.invoice_id AND r.paid_at < $1), 0) AS balance) stood
  WHERE n.issued_at < $1 AND (s.state = 'issued' OR s.changed_at >= $1) AND stood.balance <> 0`;

// Sums are whole cents and far below 2^53, so that a double holds them exactly.
const SUMS = (open: string) => `
  SELECT due_on::text AS "dueOn", sum(balance)::float8 AS "balanceCents"
  FROM (${open}) open GROUP BY due_on, sign(balance) ORDER BY due_on`;

const LIST = (open: string) => `
  SELECT i.id, open.number, i.ticket_id AS "ticketId", i.payer_id AS "payerId",
    c.name AS "payerName", c.phone AS "payerPhone", open.due_on::text AS "dueOn",
    open.balance::int AS "balanceCents"
  FROM (${open}) open
  JOIN invoice i ON i.id = open.invoice_id
  JOIN customer c ON c.id = i.payer_id
  WHERE $2::date IS NULL OR (open.due_on, open.number) > ($2::date, $3::int)
  ORDER BY open.due_on, open.number LIMIT $4`;
