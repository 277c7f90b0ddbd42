import { companyOf } from '../company/index.ts';
import type { Doer } from '../journal/index.ts';
import { enqueueIssued } from '../outbox/index.ts';
import type { Tx } from '../platform/database/database.ts';

/** What a paper tells of. */
export type PublishedOf =
  | { kind: 'quote'; revisionId: string }
  | { kind: 'acceptance'; acceptanceOf: string }
  | { kind: 'decline'; declineOf: string }
  | { kind: 'invoice'; invoiceId: string }
  | { kind: 'credit_memo'; memoId: string }
  | { kind: 'work_record'; closingId: string };

interface NewPaper {
  ticketId: string;
  number: number;
  of: PublishedOf;
  isInOtherMail?: boolean | undefined;
}

/**
 * Puts on record that there is a paper, in the transaction of the act it tells of: neither exists
 * without the other, and the entry of the act in the journal is the paper's too. It goes out by
 * itself to whoever has a mail address, unless it is in the mail of another paper; its files are drawn
 * when somebody first asks for them.
 * @param number as printed: of the quote, the invoice, the memo or the ticket
 * @returns its id
 */
export async function publishPaper(
  doer: Pick<Doer, 'tx' | 'now' | 'newId'>,
  { ticketId, number, of, isInOtherMail = false }: NewPaper,
): Promise<string> {
  const id = doer.newId();
  await doer.tx.paper.create({
    data: {
      ...{ id, ticketId, number: String(number), issuedAt: doer.now, ...of },
      ...(await answerContext(doer.tx, of)),
    },
  });
  if (!isInOtherMail) await enqueueIssued(doer, id);
  return id;
}

/** What the paper of an answer says beside quote and answer, as it is called on that day. */
async function answerContext(tx: Tx, of: PublishedOf) {
  if (of.kind !== 'acceptance' && of.kind !== 'decline') return {};
  const { recordedById } =
    of.kind === 'acceptance'
      ? await tx.quoteAcceptance.findUniqueOrThrow({ where: { quoteId: of.acceptanceOf } })
      : await tx.quoteDecline.findUniqueOrThrow({ where: { quoteId: of.declineOf } });
  const { timeZone } = await companyOf(tx);
  if (recordedById === null) return { timeZone };
  const { name } = await tx.staff.findUniqueOrThrow({ where: { id: recordedById } });
  return { timeZone, recordedByName: name };
}
