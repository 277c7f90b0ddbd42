import { centsOf, chargesFor, creditsTowardTheRightOne } from '../billing/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { addCents, cents } from '../pricing/index.ts';
import { type CreditRule, creditByRule, type LockedBill } from './credit-by-rule.ts';
import type { CreditContext } from './write-credit-memo.ts';

/** What of a ticket's work did not cure, and which yeses came after it. */
interface Uncured {
  findingIds: string[];
  rightQuoteIds: string[];
}

/**
 * Credits what a repair cost that did not cure toward the right one, once both are billed: the lines
 * that its findings were charged with, line by line in their order, together never more than the
 * work comes to that was agreed to after it; the last one is cut to that. What was credited before
 * is not credited again. To be called whenever an invoice of the ticket was issued, in its
 * transaction.
 * @returns the ids of the memos, one for each invoice that gives something back
 */
export async function creditUncured(act: CreditContext, ticketId: string): Promise<string[]> {
  const sql = sqlOf(act.tx);
  const [uncured] = (await sql.query<Uncured>(UNCURED, [ticketId])).rows;
  if (uncured === undefined || uncured.rightQuoteIds.length === 0) return [];
  const { rows } = await sql.query<{ id: string }>(ISSUED, [ticketId]);
  const ids = rows.map(({ id }) => id);
  const memo = { kind: 'did_not_cure', reason: REASON } as const;
  return creditByRule(act, ids, memo, (bills) => towardTheRightOne(bills, uncured));
}

const REASON = 'The earlier repair did not cure it; what it cost is credited toward the right one.';

function towardTheRightOne(
  bills: readonly LockedBill[],
  { findingIds, rightQuoteIds }: Uncured,
): CreditRule {
  const given = bills
    .flatMap(({ invoice }) => invoice.stored.creditMemos)
    .filter(({ kind }) => kind === 'did_not_cure')
    .map(({ totalCents }) => cents(-totalCents));
  const right = bills
    .flatMap(({ documents }) => documents)
    .filter(({ quoteId }) => quoteId !== null && rightQuoteIds.includes(quoteId))
    .map((document) => {
      const others = document.lines
        .flatMap((line) => line.findingIds)
        .filter((id) => !findingIds.includes(id));
      return centsOf(document, chargesFor(document, others));
    });
  let leftCents = Math.max(0, addCents([...right, ...given]));
  return (document) => {
    const { credits, restCents } = creditsTowardTheRightOne(document, findingIds, leftCents);
    leftCents = restCents;
    return credits;
  };
}

// A yes taken back is no right repair, and one given before the work was done is none either.
const UNCURED = `
  SELECT array_agg(DISTINCT u.finding_id::text) AS "findingIds",
    coalesce(array_agg(DISTINCT r.quote_id::text) FILTER (WHERE r.quote_id IS NOT NULL), '{}')
      AS "rightQuoteIds"
  FROM closing_uncured u
  JOIN ticket_closing c ON c.id = u.closing_id
  JOIN standing_outcome w ON w.finding_id = u.finding_id AND w.outcome = 'done'
  LEFT JOIN LATERAL (
    SELECT a.quote_id FROM quote q JOIN quote_acceptance a ON a.quote_id = q.id
    WHERE q.ticket_id = c.ticket_id AND q.id <> w.quote_id AND a.accepted_at >= w.recorded_at
      AND NOT EXISTS (SELECT 1 FROM acceptance_cancellation x WHERE x.quote_id = q.id)) r ON true
  WHERE c.ticket_id = $1
  HAVING count(*) > 0`;

const ISSUED = `
  SELECT i.id FROM invoice i JOIN invoice_issue s ON s.invoice_id = i.id
  WHERE i.ticket_id = $1 ORDER BY i.id`;
