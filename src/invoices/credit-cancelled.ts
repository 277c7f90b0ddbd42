import { creditsTowardTheRightOne, leftOf } from '../billing/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import { creditByRule } from './credit-by-rule.ts';
import type { CreditableDocument } from './creditable-documents.ts';
import type { CreditContext } from './write-credit-memo.ts';

/**
 * Gives back what yeses sold that the customer took back, as far as it was billed: their documents
 * then come to what a no would have come to, the fee of the trip. To be called once the cancellations
 * are on record, in their transaction.
 * @returns the ids of the memos, one for each invoice that gives something back
 */
export async function creditCancelled(
  act: CreditContext,
  quoteIds: readonly string[],
): Promise<string[]> {
  const { rows } = await sqlOf(act.tx).query<{ id: string }>(BILLED, [quoteIds]);
  const ids = rows.map(({ id }) => id);
  const memo = { kind: 'yes_cancelled', reason: REASON } as const;
  return creditByRule(
    act,
    ids,
    memo,
    () => (document) =>
      document.quoteId !== null && quoteIds.includes(document.quoteId) ? workSold(document) : [],
  );
}

const REASON = 'The yes was taken back in time. What it sold is credited; the visit fee stays.';

function workSold(document: CreditableDocument) {
  const findingIds = document.lines.flatMap((line) => line.findingIds);
  const capCents = leftOf(document, document.credited) - document.declineTotalCents;
  return creditsTowardTheRightOne(document, findingIds, Math.max(0, capCents)).credits;
}

const BILLED = `
  SELECT DISTINCT d.invoice_id AS id FROM invoice_document d
  WHERE d.quote_id = ANY ($1::uuid[]) ORDER BY 1`;
