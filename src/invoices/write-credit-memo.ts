import { companyOf, localDayText } from '../company/index.ts';
import { type CreditMemoPaper, type PaperLanguage, usualCautions } from '../documents/index.ts';
import { appendJournal, type Doer } from '../journal/index.ts';
import { type Frozen, publishPaper } from '../papers/index.ts';
import { canonicalJson } from '../platform/canonical-json.ts';
import { sqlOf } from '../platform/database/database.ts';
import { sha256 } from '../platform/sha256.ts';
import { pricingInputsSchema } from '../pricing/index.ts';
import type { CreditedDocument } from './credit-documents.ts';
import { creditedName } from './credited-name.ts';
import { documentTitle, type NamedDocument } from './document-title.ts';
import { paperCompany } from './invoice-paper-of.ts';
import { type LineNames, lineNames } from './line-names.ts';
import type { IssuedInvoice } from './lock-invoice.ts';
import { nextNumber } from './next-number.ts';
import { paperDocument } from './paper-document.ts';
import { restInvoice } from './rest-invoice.ts';

/** Whoever gives back: our staff, or a customer by taking a yes back. */
export type CreditContext = Doer & { newId(): string };

/** What a memo gives back and why. */
export interface Memo {
  kind: 'correction' | 'work_not_done' | 'did_not_cure' | 'yes_cancelled' | 'goodwill';
  reason: string;
  /** Where the reason was written by nobody but the program. */
  reasonInSpanish?: string;
  credited: readonly CreditedDocument[];
  taxCents: number;
  totalCents: number;
  /** Its paper goes out in the mail of another memo, and in none of its own. */
  isInOtherMail?: boolean;
}

/**
 * Issues a credit memo on a locked invoice: the next number, its lines and its paper, frozen.
 * @returns its id
 */
export async function writeCreditMemo(
  act: CreditContext,
  invoice: IssuedInvoice,
  memo: Memo,
): Promise<string> {
  const id = act.newId();
  const invoiceId = invoice.stored.id;
  const { kind, reason, taxCents, totalCents } = memo;
  // Everything that takes time comes before the number, for which all other memos wait.
  const paperOf = await memoPaperOf(act, invoice, memo);
  const number = await nextNumber(act.tx, 'credit_memo');
  const text = canonicalJson(paperOf(number));
  const contentHash = sha256(text);
  const lines = memo.credited.flatMap(({ position, lines }) =>
    lines.map((line) => ({ document: position, ...line })),
  );
  await sqlOf(act.tx).query(ISSUE, [
    id,
    number,
    invoiceId,
    kind,
    reason,
    lines.length,
    taxCents,
    totalCents,
    act.now,
    act.actor?.kind === 'staff' ? act.actor.id : null,
    contentHash,
    text,
  ]);
  await act.tx.creditMemoLine.createMany({
    data: lines.map(({ document, key, priceClass, description, amountCents }, at) => ({
      memoId: id,
      position: at + 1,
      document,
      key,
      priceClass,
      description,
      amountCents,
    })),
  });
  const { ticketId } = invoice.stored;
  const of = { kind: 'credit_memo', memoId: id } as const;
  await publishPaper(act, { ticketId, number, of, isInOtherMail: memo.isInOtherMail });
  const state = await restInvoice(act, invoiceId, invoice.money.balanceCents - totalCents);
  await appendJournal(act, {
    event: 'credit_memo.issued',
    subject: { kind: 'credit_memo', id },
    before: { state: invoice.state },
    after: { invoiceId, number, kind, taxCents, totalCents, contentHash, state },
  });
  return id;
}

/** Gathers what a memo's paper says; its number is all that is missing. */
async function memoPaperOf(
  act: CreditContext,
  { stored, issue }: IssuedInvoice,
  { kind, reason, reasonInSpanish, credited, taxCents, totalCents }: Memo,
): Promise<(number: number) => Frozen<CreditMemoPaper>> {
  const company = await companyOf(act.tx);
  const payer = await act.tx.customer.findUniqueOrThrow({ where: { id: stored.payerId } });
  const names = await namesOfEach(act, stored.id, credited);
  const named = await documentsOf(act, stored.id, credited);
  const paperIn = (number: number, language: PaperLanguage): CreditMemoPaper => ({
    kind: 'credit_memo',
    language,
    company: paperCompany(company),
    memoNumber: String(number),
    invoiceNumber: String(issue.number),
    ticketNumber: String(stored.ticket.number),
    issuedAt: act.now.toISOString(),
    issuedText: localDayText(act.now, company.timeZone, language),
    payer: { name: payer.name },
    reason: (language === 'es' && (reasonInSpanish ?? REASONS_IN_SPANISH[kind])) || reason,
    documents: credited.map((document, at) => {
      const title = titleOf(named[at], language, company.timeZone);
      const nameOf = nameIn(names[at], language);
      const lines = document.lines.map((line) => ({
        ...line,
        description: creditedName(nameOf(line), line, { stated: document.stated, language }),
      }));
      return paperDocument({ ...document, title, lines });
    }),
    taxCents,
    totalCents,
    cautions: usualCautions[language],
  });
  return (number) => ({ ...paperIn(number, 'en'), inSpanish: paperIn(number, 'es') });
}

/** What the lines of each document are called, by what it was billed from. */
async function namesOfEach(
  { tx }: CreditContext,
  invoiceId: string,
  credited: readonly CreditedDocument[],
): Promise<LineNames[]> {
  const names: LineNames[] = [];
  for (const { position } of credited) {
    const { quoteId, inputs, rulesetVersion } = await tx.invoiceDocument.findUniqueOrThrow({
      where: { invoiceId_position: { invoiceId, position } },
    });
    const source =
      quoteId === null
        ? { inputs: pricingInputsSchema.parse(inputs), rulesetVersion }
        : { quoteId };
    names.push(await lineNames(tx, source));
  }
  return names;
}

function nameIn(names: LineNames | undefined, language: PaperLanguage): LineNames[PaperLanguage] {
  if (names === undefined) throw new Error('the lines of each credited document are named');
  return names[language];
}

/** What is credited, as the invoice names it. */
async function documentsOf(
  { tx }: CreditContext,
  invoiceId: string,
  credited: readonly CreditedDocument[],
): Promise<NamedDocument[]> {
  const named: NamedDocument[] = [];
  for (const { position } of credited) {
    const { quoteId, undoneQuoteId, visit } = await tx.invoiceDocument.findUniqueOrThrow({
      where: { invoiceId_position: { invoiceId, position } },
      select: { quoteId: true, undoneQuoteId: true, visit: { select: { arrivedAt: true } } },
    });
    const ofQuote = quoteId ?? undoneQuoteId;
    if (ofQuote !== null) {
      const { number } = await tx.quote.findUniqueOrThrow({
        where: { id: ofQuote },
        select: { number: true },
      });
      const kind = quoteId === null ? 'work_not_done' : 'accepted';
      named.push({ kind, quoteNumber: number });
    } else if (visit?.arrivedAt) named.push({ kind: 'visit_fee', arrivedAt: visit.arrivedAt });
    else throw new Error(`document ${position} of invoice ${invoiceId} bills nothing`);
  }
  return named;
}

function titleOf(
  document: NamedDocument | undefined,
  language: PaperLanguage,
  timeZone: string,
): string {
  if (document === undefined) throw new Error('each credited document is named');
  return documentTitle[language](document, timeZone);
}

/** Of memos that a rule writes; any other reason was written by a person and stays. */
const REASONS_IN_SPANISH: Partial<Record<Memo['kind'], string>> = {
  yes_cancelled:
    'El sí se retiró a tiempo. Se acredita lo que vendía; la tarifa de visita se mantiene.',
  did_not_cure: 'La reparación anterior no lo resolvió; lo que costó se acredita a la correcta.',
};

const ISSUE = `
  INSERT INTO credit_memo (id, number, invoice_id, kind, reason, line_count, tax_cents, total_cents,
    issued_at, issued_by_id, content_hash, paper)
  VALUES ($1, $2, $3, $4, $5, $6, $7, $8, $9, $10, $11, $12)`;
