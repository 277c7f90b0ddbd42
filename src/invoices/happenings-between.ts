import { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';

const documentSchema = z.object({
  jurisdiction: z.string(),
  lines: z.array(z.object({ priceClass: z.string(), amountCents: z.int() })),
});

const happeningSchema = z.object({
  kind: z.enum(['billed', 'credited', 'paid', 'voided', 'refunded', 'claim_credited']),
  /** When it was written down. */
  at: z.date(),
  /** When it happened, where somebody said so; by its day alone for what a maker credited. */
  toldAt: z.date().nullable(),
  /** The number by which the bookkeeper finds it again. */
  number: z.int(),
  /** Which of several under one number: the second refund of an invoice, say. */
  ordinal: z.int().nullable(),
  method: z.string().nullable(),
  amountCents: z.int(),
  who: z.string(),
  note: z.string().nullable(),
  documents: z.array(documentSchema).nullable(),
});

/** Something that happened to money, as the books are to know it. */
export type Happening = z.output<typeof happeningSchema>;

/**
 * What was written down of money in a time, in order. It goes by that and not by when it is said to
 * have happened, so what was told of a time that is over never changes.
 */
export async function happeningsBetween(
  sql: Sql,
  { from, to }: { from: Date; to: Date },
): Promise<Happening[]> {
  const { rows } = await sql.query(HAPPENED, [from, to]);
  return rows.map((row) => happeningSchema.parse(row));
}

// What a maker credited is known by its day alone; it stands at the day's noon in UTC, which is
// within the same day wherever the dollar is the currency.
const HAPPENED = `
  WITH taxed AS NOT MATERIALIZED (
    SELECT d.invoice_id, d.position,
      coalesce(d.inputs, r.inputs) -> 'tax' ->> 'jurisdiction' AS jurisdiction
    FROM invoice_document d
    LEFT JOIN quote_acceptance a ON a.quote_id = coalesce(d.quote_id, d.undone_quote_id)
    LEFT JOIN quote_option o ON o.id = a.option_id
    LEFT JOIN quote_revision r ON r.id = o.revision_id)
  SELECT * FROM (
    SELECT 'billed' AS kind, n.issued_at AS at, NULL::timestamptz AS "toldAt", n.number,
      NULL::int AS ordinal, NULL AS method,
      n.total_cents AS "amountCents", c.name AS who, 'Ticket ' || t.number AS note,
      (SELECT coalesce(json_agg(json_build_object('jurisdiction', x.jurisdiction, 'lines',
          (SELECT json_agg(json_build_object('priceClass', l.price_class,
              'amountCents', l.amount_cents) ORDER BY l.position)
            FROM invoice_line l WHERE l.invoice_id = x.invoice_id AND l.document = x.position))
          ORDER BY x.position), '[]')
        FROM taxed x WHERE x.invoice_id = n.invoice_id) AS documents
    FROM invoice_issue n
    JOIN invoice i ON i.id = n.invoice_id
    JOIN ticket t ON t.id = i.ticket_id
    JOIN customer c ON c.id = i.payer_id
    WHERE n.issued_at >= $1 AND n.issued_at < $2
    UNION ALL
    SELECT 'credited', m.issued_at, NULL, m.number, NULL, NULL, m.total_cents, c.name, m.reason,
      (SELECT json_agg(json_build_object('jurisdiction', x.jurisdiction, 'lines',
          (SELECT json_agg(json_build_object('priceClass', l.price_class,
              'amountCents', l.amount_cents) ORDER BY l.position)
            FROM credit_memo_line l WHERE l.memo_id = m.id AND l.document = x.position))
          ORDER BY x.position)
        FROM taxed x WHERE x.invoice_id = m.invoice_id AND EXISTS (SELECT 1
          FROM credit_memo_line l WHERE l.memo_id = m.id AND l.document = x.position))
    FROM credit_memo m
    JOIN invoice i ON i.id = m.invoice_id
    JOIN customer c ON c.id = i.payer_id
    WHERE m.issued_at >= $1 AND m.issued_at < $2
    UNION ALL
    SELECT 'paid', p.recorded_at, p.received_at, p.receipt_number, NULL, p.method, p.amount_cents,
      c.name, p.reference, NULL
    FROM payment p
    JOIN invoice i ON i.id = p.invoice_id
    JOIN customer c ON c.id = i.payer_id
    WHERE p.recorded_at >= $1 AND p.recorded_at < $2
    UNION ALL
    SELECT 'voided', v.voided_at, NULL, p.receipt_number, NULL, p.method, p.amount_cents, c.name,
      v.reason, NULL
    FROM payment_void v
    JOIN payment p ON p.id = v.payment_id
    JOIN invoice i ON i.id = p.invoice_id
    JOIN customer c ON c.id = i.payer_id
    WHERE v.voided_at >= $1 AND v.voided_at < $2
    UNION ALL
    SELECT 'refunded', f.recorded_at, f.paid_at, n.number,
      (SELECT count(*)::int FROM refund e WHERE e.invoice_id = f.invoice_id AND e.id <= f.id),
      f.method, f.amount_cents, c.name, f.reference, NULL
    FROM refund f
    JOIN invoice i ON i.id = f.invoice_id
    JOIN invoice_issue n ON n.invoice_id = i.id
    JOIN customer c ON c.id = i.payer_id
    WHERE f.recorded_at >= $1 AND f.recorded_at < $2
    UNION ALL
    SELECT 'claim_credited', s.recorded_at, (s.happened_on + time '12:00') AT TIME ZONE 'UTC',
      t.number,
      (SELECT count(*)::int FROM warranty_claim e JOIN part_use o ON o.id = e.part_use_id
        JOIN visit y ON y.id = o.visit_id WHERE y.ticket_id = v.ticket_id AND e.id <= w.id),
      NULL, s.amount_cents, u.part_code, s.reference, NULL
    FROM warranty_claim_step s
    JOIN warranty_claim w ON w.id = s.claim_id
    JOIN part_use u ON u.id = w.part_use_id
    JOIN visit v ON v.id = u.visit_id
    JOIN ticket t ON t.id = v.ticket_id
    WHERE s.step = 'credited' AND s.recorded_at >= $1 AND s.recorded_at < $2) happened
  ORDER BY at, array_position(
    ARRAY['billed', 'credited', 'paid', 'voided', 'refunded', 'claim_credited'], kind), number, ordinal`;
