import type { Doer } from '../journal/index.ts';
import { enqueueIssued } from '../outbox/index.ts';

/** What a paper tells of. */
export type PublishedOf =
  | { kind: 'quote'; revisionId: string }
  | { kind: 'acceptance'; acceptanceOf: string }
  | { kind: 'decline'; declineOf: string }
  | { kind: 'invoice'; invoiceId: string }
  | { kind: 'credit_memo'; memoId: string }
  | { kind: 'work_record'; closingId: string };

/**
 * Puts on record that there is a paper, in the transaction of the act it tells of: neither exists
 * without the other, and the entry of the act in the journal is the paper's too. It goes out by
 * itself to whoever has a mail address; its files are drawn when somebody first asks for them.
 * @param number as printed: of the quote, the invoice, the memo or the ticket
 * @returns its id
 */
export async function publishPaper(
  doer: Pick<Doer, 'tx' | 'now' | 'newId'>,
  { ticketId, number, of }: { ticketId: string; number: number; of: PublishedOf },
): Promise<string> {
  const id = doer.newId();
  await doer.tx.paper.create({
    data: { id, ticketId, number: String(number), issuedAt: doer.now, ...of },
  });
  await enqueueIssued(doer, id);
  return id;
}
