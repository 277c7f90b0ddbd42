import { companyOf, localDay } from '../company/index.ts';
import { appendJournal } from '../journal/index.ts';
import { publishPaper } from '../papers/index.ts';
import { plusDays } from '../platform/calendar-day.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { Prisma } from '../platform/database/generated/client.ts';
import type { ActContext } from '../platform/http/route.ts';
import { sha256 } from '../platform/sha256.ts';
import type { BillDocument } from './bill-of.ts';
import { creditUncured } from './credit-uncured.ts';
import { invoicePaperOf } from './invoice-paper-of.ts';
import { lockDraft, lockInvoicesOf } from './lock-invoice.ts';
import { nextNumber } from './next-number.ts';
import { restInvoice } from './rest-invoice.ts';

/**
 * Issues a draft invoice: gives it the next number and freezes what it bills, line for line, with
 * its paper and the paper's hash. One that comes to nothing is settled at once. What did not cure is
 * then credited toward what did, as far as both are billed.
 * @throws ProblemError 404 when it is not theirs, 412 when what it bills is not what was seen, 409
 *   when it was issued before
 */
export async function issueInvoice(
  act: ActContext,
  invoiceId: string,
  { dueInDays }: { dueInDays: number },
): Promise<void> {
  const invoice = await lockDraft(act, invoiceId);
  const { documents, taxCents, totalCents } = invoice.bill;
  const company = await companyOf(act.tx);
  const dueOn = plusDays(localDay(act.now, company.timeZone), dueInDays);
  const paperOf = await invoicePaperOf(act.tx, invoice, { issuedAt: act.now, dueOn, company });
  await lockInvoicesOf(act, invoice.stored.ticketId);
  const number = await nextNumber(act.tx, 'invoice_issue');
  const text = canonicalJson(paperOf(number));
  const contentHash = sha256(text);
  await sqlOf(act.tx).query(ISSUE, [
    invoiceId,
    number,
    act.now,
    act.actor.id,
    dueOn,
    documents.length,
    taxCents,
    totalCents,
    contentHash,
    text,
  ]);
  await act.tx.invoiceDocument.createMany({
    data: documents.map((document, at) => documentRow(invoiceId, at + 1, document)),
  });
  await act.tx.invoiceLine.createMany({
    data: documents.flatMap((document, at) => lineRows(invoiceId, at + 1, document)),
  });
  const { ticketId } = invoice.stored;
  await publishPaper(act, { ticketId, number, of: { kind: 'invoice', invoiceId } });
  const state = await restInvoice(act, invoiceId, totalCents);
  await appendJournal(act, {
    event: 'invoice.issued',
    subject: { kind: 'invoice', id: invoiceId },
    before: { state: 'draft' },
    after: { number, dueOn, taxCents, totalCents, contentHash, state },
  });
  await creditUncured(act, ticketId);
}

function documentRow(invoiceId: string, position: number, document: BillDocument) {
  const { kind, rulesetVersion, lines, taxCents, totalCents } = document;
  return {
    invoiceId,
    position,
    kind,
    rulesetVersion,
    lineCount: lines.length,
    taxCents,
    totalCents,
    ...whatIsBilled(document),
  } satisfies Prisma.InvoiceDocumentCreateManyInput;
}

function whatIsBilled(document: BillDocument) {
  switch (document.kind) {
    case 'accepted':
      return { quoteId: document.quoteId, optionId: document.optionId };
    case 'work_not_done':
      return { undoneQuoteId: document.quoteId };
    case 'visit_fee':
      return { visitId: document.visitId, inputs: document.inputs };
  }
}

function lineRows(invoiceId: string, document: number, { lines }: BillDocument) {
  return lines.map(
    ({ key, kind, priceClass, description, aimedAt, amountCents }, at) =>
      ({
        invoiceId,
        document,
        position: at + 1,
        key,
        kind,
        priceClass,
        description,
        aimedAt,
        amountCents,
      }) satisfies Prisma.InvoiceLineCreateManyInput,
  );
}

const ISSUE = `
  INSERT INTO invoice_issue (invoice_id, number, issued_at, issued_by_id, due_on, document_count,
    tax_cents, total_cents, content_hash, paper)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10)`;
