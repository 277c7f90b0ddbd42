import type { z } from 'zod';
import { agingOf } from '../billing/index.ts';
import { companyOf, localDay } from '../company/index.ts';
import type { receivablesSchema } from './contract.ts';
import { localDays } from './local-days.ts';
import type { Store } from './store.ts';

/** An issued invoice on which something was owed, either way, at the end of a day. */
interface FoundInvoice {
  invoiceId: string;
  number: number;
  ticketId: string;
  payerId: string;
  dueOn: string;
  balanceCents: number;
}

/**
 * What customers owe at the end of a local day, by how long it has been due: today unless asked.
 * What we owe them is said beside it and takes nothing off: other people's money pays no bill.
 */
export async function receivables(
  { prisma, sql }: Store,
  asked: string | undefined,
  now: Date,
): Promise<z.input<typeof receivablesSchema>> {
  const { timeZone } = await companyOf(prisma);
  const asOf = asked ?? localDay(now, timeZone);
  const { to } = localDays(asOf, asOf, timeZone);
  // At the end of a day that is not over, every invoice is as it is now.
  const { rows } = await sql.query<FoundInvoice>(to > now ? OPEN_NOW : OPEN_THEN, [to]);
  const { invoices, ...owed } = agingOf(rows, asOf);
  return {
    asOf,
    ...owed,
    invoices: invoices.slice(0, LISTED_MAX).map(({ invoiceId: id, ...invoice }) => ({
      id,
      ...invoice,
    })),
    more: Math.max(invoices.length - LISTED_MAX, 0),
  };
}

const LISTED_MAX = 500;

const ONE = `i.id AS "invoiceId", n.number, i.ticket_id AS "ticketId", i.payer_id AS "payerId",
  n.due_on::text AS "dueOn"`;

const OPEN_NOW = `
  SELECT ${ONE}, invoice_balance(i.id)::int AS "balanceCents"
  FROM invoice_state s
  JOIN invoice i ON i.id = s.invoice_id
  JOIN invoice_issue n ON n.invoice_id = i.id
  WHERE s.state = 'issued' AND n.issued_at < $1
  ORDER BY n.due_on, n.number`;

// Whatever was settled before that moment and not touched since was settled at that moment too.
const OPEN_THEN = `
  SELECT ${ONE}, stood.balance::int AS "balanceCents"
  FROM invoice_state s
  JOIN invoice i ON i.id = s.invoice_id
  JOIN invoice_issue n ON n.invoice_id = i.id
  CROSS JOIN LATERAL (SELECT n.total_cents
    - coalesce((SELECT sum(m.total_cents) FROM credit_memo m
        WHERE m.invoice_id = i.id AND m.issued_at < $1), 0)
    - coalesce((SELECT sum(p.amount_cents) FROM payment p
        WHERE p.invoice_id = i.id AND p.received_at < $1
          AND NOT EXISTS (SELECT 1 FROM payment_void v
            WHERE v.payment_id = p.id AND v.voided_at < $1)), 0)
    + coalesce((SELECT sum(r.amount_cents) FROM refund r
        WHERE r.invoice_id = i.id AND r.paid_at < $1), 0) AS balance) stood
  WHERE n.issued_at < $1 AND (s.state = 'issued' OR s.changed_at >= $1) AND stood.balance <> 0
  ORDER BY n.due_on, n.number`;
