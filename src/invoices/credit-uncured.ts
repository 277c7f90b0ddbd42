import type { Credit } from '../billing/index.ts';
import { sqlOf } from '../platform/database/database.ts';
import type { ActContext } from '../platform/http/route.ts';
import { cents } from '../pricing/index.ts';
import { billOf } from './bill-of.ts';
import { type CreditedDocument, creditDocument } from './credit-documents.ts';
import { type CreditableDocument, creditableDocuments } from './creditable-documents.ts';
import { lockIssuedUnseen } from './lock-invoice.ts';
import { storeOf } from './store.ts';
import { writeCreditMemo } from './write-credit-memo.ts';

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
  const memoIds: string[] = [];
  for (const { id } of rows) {
    const invoice = await lockIssuedUnseen(act, id);
    const documents = await creditableDocuments(act.tx, invoice.stored);
    const credited: CreditedDocument[] = [];
    for (const document of documents.values()) {
      const part = creditUpTo(document, uncured(document, findingIds), leftCents);
      if (part === undefined) continue;
      credited.push(part);
      leftCents -= part.totalCents;
    }
    if (credited.length === 0) continue;
    const taxCents = credited.reduce((sum, document) => sum + document.taxCents, 0);
    const totalCents = credited.reduce((sum, document) => sum + document.totalCents, 0);
    const memo = { kind: 'did_not_cure', reason: REASON, credited, taxCents, totalCents } as const;
    memoIds.push(await writeCreditMemo(act, invoice, memo));
  }
  return memoIds;
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

/** What is left of each charge all of whose findings did not cure, in the order of the lines. */
function uncured({ lines, credited }: CreditableDocument, findingIds: readonly string[]): Credit[] {
  return lines
    .filter(({ findingIds: of }) => of.length > 0 && of.every((id) => findingIds.includes(id)))
    .map(({ key, amountCents }) => {
      const lowered = lines.filter(({ aimedAt }) => aimedAt === key).map(amountOf);
      const before = credited.filter((credit) => credit.key === key).map(amountOf);
      return { key, amountCents: cents(amountCents + sumOf(lowered) - sumOf(before)) };
    })
    .filter(({ amountCents }) => amountCents > 0);
}

/** Credits in their order, as many of them as go into the limit with their tax. */
function creditUpTo(
  document: CreditableDocument,
  credits: readonly Credit[],
  limitCents: number,
): CreditedDocument | undefined {
  const wholeCents = sumOf(credits.map(amountOf));
  // The total rises with what is credited, so halving finds the most that goes into the limit.
  let fits = 0;
  let tooMuch = wholeCents + 1;
  while (tooMuch - fits > 1) {
    const middle = Math.floor((fits + tooMuch) / 2);
    if (totalOf(document, firstCents(credits, middle)) <= limitCents) fits = middle;
    else tooMuch = middle;
  }
  return fits === 0 ? undefined : creditedOn(document, firstCents(credits, fits));
}

function firstCents(credits: readonly Credit[], amountCents: number): Credit[] {
  let left = amountCents;
  return credits
    .map((credit) => {
      const part = Math.min(credit.amountCents, left);
      left -= part;
      return { key: credit.key, amountCents: cents(part) };
    })
    .filter((credit) => credit.amountCents > 0);
}

function totalOf(document: CreditableDocument, credits: readonly Credit[]): number {
  return credits.length === 0 ? 0 : creditedOn(document, credits).totalCents;
}

function creditedOn(document: CreditableDocument, credits: readonly Credit[]): CreditedDocument {
  const answer = creditDocument(document, credits);
  if (answer.outcome === 'credited') return answer.document;
  throw new Error(`what is left of a line cannot be credited: ${JSON.stringify(answer.refusals)}`);
}

function amountOf({ amountCents }: { amountCents: number }): number {
  return amountCents;
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
