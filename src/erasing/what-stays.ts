import type { z } from 'zod';
import type { Sql } from '../platform/database/database.ts';
import { type erasureSchema, stayingCodes } from './contract.ts';
import { STAYS } from './words.ts';

/** What is still kept of a person's tickets, how much of it, and why. */
export async function whatStays(
  sql: Sql,
  customerId: string,
): Promise<z.input<typeof erasureSchema>['stays']> {
  const { rows } = await sql.query<Record<(typeof stayingCodes)[number], number>>(COUNTS, [
    customerId,
  ]);
  return stayingCodes.map((code) => ({ code, count: rows[0]?.[code] ?? 0, ...STAYS[code] }));
}

const COUNTS = `
  WITH theirs AS (
    SELECT t.id FROM ticket t JOIN site s ON s.id = t.site_id
    WHERE $1::uuid IN (t.caller_id, s.occupant_id, s.payer_id)
  ), visits AS (SELECT id FROM visit WHERE ticket_id IN (SELECT id FROM theirs)),
  quotes AS (SELECT id FROM quote WHERE ticket_id IN (SELECT id FROM theirs)),
  invoices AS (SELECT id FROM invoice WHERE ticket_id IN (SELECT id FROM theirs))
  SELECT
    (SELECT count(*)::int FROM paper WHERE ticket_id IN (SELECT id FROM theirs)) AS papers,
    (SELECT count(*)::int FROM quote_acceptance WHERE quote_id IN (SELECT id FROM quotes))
      + (SELECT count(*)::int FROM quote_decline WHERE quote_id IN (SELECT id FROM quotes))
      + (SELECT count(*)::int FROM acceptance_cancellation
         WHERE quote_id IN (SELECT id FROM quotes)) AS answers,
    (SELECT count(*)::int FROM payment WHERE invoice_id IN (SELECT id FROM invoices))
      + (SELECT count(*)::int FROM refund WHERE invoice_id IN (SELECT id FROM invoices)) AS money,
    (SELECT count(*)::int FROM visits) AS work,
    (SELECT count(*)::int FROM visit_photo WHERE visit_id IN (SELECT id FROM visits)) AS photos`;
