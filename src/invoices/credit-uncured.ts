import { creditsTowardTheRightOne } from '../billing/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import { billOf } from './bill-of.ts';
import { creditByRule } from './credit-by-rule.ts';
import { storeOf } from './store.ts';

/**
 * Credits what an earlier repair cost that did not cure toward the right one, when a reopened ticket
 * is closed: the lines that the findings were charged with on issued invoices, line by line in
 * their order, together never more than the work comes to that this closing bills; the last one is
 * cut to that. What was credited before is not credited again. An invoice that is still a draft
 * holds nothing to credit yet. To be called once the closing is on record, in its transaction.
 * @returns the ids of the memos, one for each invoice that gives something back
 */
export async function creditUncured(
  act: ActContext,
  { ticketId, findingIds }: { ticketId: string; findingIds: readonly string[] },
): Promise<string[]> {
  const { rows } = await sqlOf(act.tx).query<{ id: string }>(CHARGED, [ticketId, findingIds]);
  let leftCents = rows.length === 0 ? 0 : await rightWorkCents(act, ticketId);
  const ids = rows.map(({ id }) => id);
  return creditByRule(act, ids, { kind: 'did_not_cure', reason: REASON }, (document) => {
    const { credits, restCents } = creditsTowardTheRightOne(document, findingIds, leftCents);
    leftCents = restCents;
    return credits;
  });
}

const REASON = 'The earlier repair did not cure it; what it cost is credited toward the right one.';

/** What the work comes to that the last closing bills, less what was not done of it. */
async function rightWorkCents(act: ActContext, ticketId: string): Promise<number> {
  const closing = await act.tx.ticketClosing.findFirstOrThrow({
    where: { ticketId },
    orderBy: { sequence: 'desc' },
    select: { id: true },
  });
  const { documents } = await billOf(storeOf(act), closing.id);
  const work = documents.filter(({ kind }) => kind !== 'visit_fee');
  return sumOf(work.map(({ totalCents }) => totalCents));
}

function sumOf(amounts: readonly number[]): number {
  return amounts.reduce((sum, amount) => sum + amount, 0);
}

const CHARGED = `
  SELECT i.id FROM invoice i
  JOIN invoice_issue s ON s.invoice_id = i.id
  WHERE i.ticket_id = $1 AND EXISTS (
    SELECT 1 FROM invoice_document d JOIN quote_line l ON l.option_id = d.option_id
    WHERE d.invoice_id = i.id AND l.finding_ids && $2::uuid[])
  ORDER BY s.number`;
