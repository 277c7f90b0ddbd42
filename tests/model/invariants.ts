import { expect } from 'vitest';
import type { TestService } from '../harness/test-service.ts';

/**
 * What must be true of the whole database however lives went, each as a question whose answer is
 * the rows that break it.
 */
const BROKEN: Record<string, string> = {
  'a quote is accepted at most once, and then nothing else of it stands': `
    SELECT quote_id FROM quote_state WHERE state IN ('accepted', 'declined', 'issued')
    GROUP BY quote_id HAVING count(*) > 1`,
  'what is accepted is on record, and what is on record is accepted': `
    SELECT s.quote_id FROM quote_state s
    FULL JOIN quote_acceptance a ON a.quote_id = s.quote_id AND a.revision = s.revision
    WHERE (s.state = 'accepted') IS DISTINCT FROM (a.quote_id IS NOT NULL)
      AND (s.state = 'accepted' OR a.quote_id IS NOT NULL)`,
  'an option adds up': `
    SELECT o.id FROM quote_option o JOIN quote_line l ON l.option_id = o.id
    GROUP BY o.id HAVING sum(l.amount_cents) <> o.total_cents`,
  'work is sold once': `
    SELECT q.ticket_id, f FROM quote_acceptance a JOIN quote q ON q.id = a.quote_id,
      LATERAL (SELECT DISTINCT unnest(l.finding_ids) AS f FROM quote_line l
        WHERE l.option_id = a.option_id AND l.kind IN ('part', 'good', 'labor')) sold
    WHERE NOT EXISTS (SELECT 1 FROM acceptance_cancellation c WHERE c.quote_id = q.id)
      AND NOT EXISTS (SELECT 1 FROM standing_outcome w
        WHERE w.quote_id = q.id AND w.finding_id = f AND w.outcome = 'not_done')
    GROUP BY q.ticket_id, f HAVING count(*) > 1`,
  'no work is on record that nobody agreed to': `
    SELECT w.finding_id FROM work_outcome w JOIN quote_acceptance a ON a.quote_id = w.quote_id
    WHERE NOT EXISTS (SELECT 1 FROM quote_line l
      WHERE l.option_id = a.option_id AND w.finding_id = ANY (l.finding_ids))`,
  'invoice numbers have no gap': `
    SELECT i.number FROM invoice_issue i
    WHERE i.number > 1 AND NOT EXISTS (SELECT 1 FROM invoice_issue p WHERE p.number = i.number - 1)`,
  'credit memo numbers have no gap': `
    SELECT m.number FROM credit_memo m
    WHERE m.number > 1 AND NOT EXISTS (SELECT 1 FROM credit_memo p WHERE p.number = m.number - 1)`,
  'an invoice is the sum of its documents, and never above what was accepted and told': `
    SELECT i.invoice_id FROM invoice_issue i
    LEFT JOIN invoice_document d ON d.invoice_id = i.invoice_id
    LEFT JOIN quote_acceptance a ON a.quote_id = d.quote_id
    LEFT JOIN visit v ON v.id = d.visit_id
    GROUP BY i.invoice_id, i.total_cents
    HAVING coalesce(sum(d.total_cents), 0) <> i.total_cents
      OR i.total_cents > coalesce(sum(coalesce(a.total_cents, 0)
        + CASE d.kind WHEN 'visit_fee' THEN d.tax_cents + v.fee_cents ELSE 0 END), 0)`,
  'settled means that nothing is owed either way': `
    SELECT s.invoice_id FROM invoice_state s JOIN invoice_issue i ON i.invoice_id = s.invoice_id
    WHERE (s.state = 'settled') <> (invoice_balance(s.invoice_id) = 0)`,
  'nobody gets back more than was overpaid, nor credited more than was billed': `
    SELECT i.invoice_id FROM invoice_issue i
    WHERE i.total_cents < coalesce((SELECT sum(total_cents) FROM credit_memo m
        WHERE m.invoice_id = i.invoice_id), 0)
      OR coalesce((SELECT sum(amount_cents) FROM refund r WHERE r.invoice_id = i.invoice_id), 0)
        > coalesce((SELECT sum(p.amount_cents) FROM payment p WHERE p.invoice_id = i.invoice_id
          AND NOT EXISTS (SELECT 1 FROM payment_void v WHERE v.payment_id = p.id)), 0)`,
  'a closed ticket says how it ended and has its invoice': `
    SELECT t.id FROM ticket t
    LEFT JOIN LATERAL (SELECT id FROM ticket_closing c WHERE c.ticket_id = t.id
      ORDER BY sequence DESC LIMIT 1) c ON true
    LEFT JOIN invoice i ON i.closing_id = c.id
    WHERE t.state = 'closed' AND i.id IS NULL`,
  // One for one: an entry stands for one change and for nothing beside it; what was struck out and
  // recorded again was changed twice.
  'a change is in the journal, once': `
    SELECT c.event, c.subject FROM (
      SELECT 'quote.accepted' AS event, quote_id AS subject, NULL::uuid AS beside
        FROM quote_acceptance
      UNION ALL SELECT 'quote.declined', quote_id, NULL FROM quote_decline
      UNION ALL SELECT 'work.outcome_recorded', finding_id, quote_id FROM work_outcome
      UNION ALL SELECT 'invoice.issued', invoice_id, NULL FROM invoice_issue
      UNION ALL SELECT 'payment.recorded', id, invoice_id FROM payment
      UNION ALL SELECT 'payment.voided', v.payment_id, p.invoice_id
        FROM payment_void v JOIN payment p ON p.id = v.payment_id
      UNION ALL SELECT 'refund.recorded', id, invoice_id FROM refund
      UNION ALL SELECT 'credit_memo.issued', id, invoice_id FROM credit_memo) c
    GROUP BY c.event, c.subject, c.beside
    HAVING count(*) <> (SELECT count(*) FROM journal_entry j
      WHERE j.event = c.event AND j.subject_id = c.subject::text
        AND (c.beside IS NULL OR c.beside::text IN (
          j.changes::jsonb #>> '{after,quoteId}', j.changes::jsonb #>> '{after,invoiceId}')))`,
  'each issue of a quote is in the journal': `
    SELECT i.quote_id FROM quote_issue i GROUP BY i.quote_id
    HAVING count(*) <> (SELECT count(*) FROM journal_entry j
      WHERE j.event = 'quote.issued' AND j.subject_id = i.quote_id::text)`,
};

/** Asks all of them. */
export async function expectNothingBroken({ owner }: Pick<TestService, 'owner'>): Promise<void> {
  for (const [law, question] of Object.entries(BROKEN)) {
    const { rows } = await owner.query(question);
    expect(rows, law).toEqual([]);
  }
}

/** How many lives got how far, so that nobody takes a run for one that looked at nothing. */
export async function reached({
  owner,
}: Pick<TestService, 'owner'>): Promise<Record<string, number>> {
  const { rows } = await owner.query<Record<string, number>>(REACHED);
  return rows[0] ?? {};
}

const REACHED = `
  SELECT (SELECT count(*)::int FROM quote_issue) AS issued,
    (SELECT count(*)::int FROM quote_acceptance) AS accepted,
    (SELECT count(*)::int FROM quote_acceptance a JOIN quote q ON q.id = a.quote_id
      WHERE q.parent_id IS NOT NULL) AS "changeOrders",
    (SELECT count(*)::int FROM quote_decline) AS declined,
    (SELECT count(*)::int FROM acceptance_cancellation) AS cancelled,
    (SELECT count(*)::int FROM work_outcome WHERE outcome = 'not_done') AS undone,
    (SELECT count(*)::int FROM ticket_closing) AS closed,
    (SELECT count(*)::int FROM ticket_callback) AS callbacks,
    (SELECT count(*)::int FROM invoice_issue) AS invoices,
    (SELECT count(*)::int FROM payment) AS payments,
    (SELECT count(*)::int FROM payment_void) AS voids,
    (SELECT count(*)::int FROM credit_memo) AS "creditMemos",
    (SELECT count(*)::int FROM refund) AS refunds`;
