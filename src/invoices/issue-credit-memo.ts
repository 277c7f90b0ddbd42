import type { z } from 'zod';
import { chargedLines } from '../billing/index.ts';
import { ProblemError, unknownReference } from '../platform/http/problem.ts';
import type { ActContext } from '../platform/http/route.ts';
import { addCents, cents, dollarsText } from '../pricing/index.ts';
import type { creditMemoMadeSchema, newCreditMemoSchema } from './contract.ts';
import { type CreditedDocument, creditDocument } from './credit-documents.ts';
import { creditMemoOf } from './credit-memo-of.ts';
import { type CreditableDocument, creditableDocuments } from './creditable-documents.ts';
import { lockIssued } from './lock-invoice.ts';
import { invoiceAfter } from './rest-invoice.ts';
import { writeCreditMemo } from './write-credit-memo.ts';

type Request = z.output<typeof newCreditMemoSchema>;
type AimedCredit = Request['lines'][number] & { at: number };

/**
 * Credits lines of an issued invoice. Their tax follows: the tax as it was, less the tax computed
 * again on what is left.
 * @returns the memo, and what it leaves of its invoice
 * @throws ProblemError 404 when there is no such invoice, 409 for a draft, 412 when somebody was
 *   first, 422 for a document or a charge that it does not have, and for more than was charged
 */
export async function issueCreditMemo(
  act: ActContext,
  invoiceId: string,
  { kind, reason, lines }: Request,
): Promise<z.input<typeof creditMemoMadeSchema>> {
  const invoice = await lockIssued(act, invoiceId, 'credit');
  const documents = await creditableDocuments(act.tx, invoice.stored);
  const aimed = lines.map((line, at) => ({ ...line, at }));
  refuseStrangers(documents, aimed);
  const { balanceCents } = invoice.money;
  const credited = [...documents.values()].flatMap((document) => {
    const credits = aimed.filter((each) => each.document === document.position);
    return credits.length === 0 ? [] : [creditOrRefuse(document, credits, balanceCents)];
  });
  const taxCents = addCents(credited.map((document) => cents(document.taxCents)));
  const totalCents = addCents(credited.map((document) => cents(document.totalCents)));
  const memo = { kind, reason, credited, taxCents, totalCents };
  const id = await writeCreditMemo(act, invoice, memo);
  const made = await creditMemoOf({ prisma: act.tx }, act.actor, id);
  return { ...made, ...invoiceAfter(invoice, balanceCents - totalCents) };
}

function refuseStrangers(
  documents: ReadonlyMap<number, CreditableDocument>,
  aimed: readonly AimedCredit[],
): void {
  for (const { document, key, at } of aimed) {
    const billed = documents.get(document);
    if (billed === undefined) {
      throw unknownReference(`/lines/${at}/document`, 'No such document can be credited.');
    }
    if (!chargedLines(billed.lines).some(({ line }) => line.key === key)) {
      throw unknownReference(`/lines/${at}/key`, 'The document has no such charge.');
    }
  }
}

function creditOrRefuse(
  document: CreditableDocument,
  credits: readonly AimedCredit[],
  balanceCents: number,
): CreditedDocument {
  const answer = creditDocument(
    document,
    credits.map(({ key, amountCents }) => ({ key, amountCents: cents(amountCents) })),
  );
  if (answer.outcome === 'credited') return answer.document;
  const above = answer.refusals.flatMap(({ at }) => credits.slice(at, at + 1));
  throw new ProblemError('above-balance', 'The credit is more than what was charged.', {
    balanceCents,
    errors: above.map((credit) => ({
      in: 'body' as const,
      pointer: `/lines/${credit.at}/amountCents`,
      code: 'above_charged',
      message: aboveCharged(document, credit),
    })),
  });
}

function aboveCharged(
  { lines, credited }: CreditableDocument,
  { key, amountCents }: AimedCredit,
): string {
  const charge = chargedLines(lines, credited).find(({ line }) => line.key === key);
  const left = dollarsText(charge?.leftCents ?? 0);
  return `${dollarsText(amountCents)} is more than the ${left} left of this charge.`;
}
