import { type Credit, creditOn, taxOfTheRest } from '../../src/billing/index.ts';
import { localDayText } from '../../src/company/index.ts';
import { type CreditMemoPaper, usualCautions } from '../../src/documents/index.ts';
import { paperCompany, paperDocument } from '../../src/invoices/index.ts';
import { canonicalJson } from '../../src/platform/canonical-json.ts';
import { sha256 } from '../../src/platform/sha256.ts';
import { addCents, cents, type TaxRule } from '../../src/pricing/index.ts';
import { addPaper } from './add-paper.ts';
import type { JobBill } from './bill-of-job.ts';
import type { Job } from './job.ts';
import { minutesAfter } from './minutes-after.ts';
import type { Pen } from './pen.ts';
import { titleOf } from './title-of.ts';
import type { Issued } from './write-closing.ts';

/** What is given back of the first document of a bill: a share of a charge, or tax that was not due. */
export type MemoOf =
  | { kind: 'goodwill'; ofClass: 'labor' | 'part'; share: number }
  | { kind: 'correction'; taxDue: TaxRule };

interface Back {
  credits: readonly Credit[];
  taxCents: number;
}

type Memoed = Pick<Issued, 'id' | 'number' | 'documents' | 'issuedAt'> & { totalCents: number };

/**
 * Writes a credit memo on an invoice that nobody has paid yet.
 * @returns what it gives back; 0 where there is nothing to give back, and no memo then
 */
export function writeMemo(pen: Pen, job: Job, invoice: Memoed, memo: MemoOf): number {
  const [document] = invoice.documents;
  const back = document && backOf(document, memo);
  if (document === undefined || back === undefined) return 0;
  const totalCents = addCents([
    ...back.credits.map(({ amountCents }) => amountCents),
    cents(back.taxCents),
  ]);
  if (totalCents === 0) return 0;
  writeRows(pen, job, invoice, { ...back, totalCents, document, kind: memo.kind });
  return totalCents;
}

/** What a memo gives back of a document; undefined where it has nothing to take it from. */
export function backOf(document: JobBill, memo: MemoOf): Back | undefined {
  const taxed = taxedOf(document);
  if (memo.kind === 'correction') {
    const before = taxOfTheRest(taxed, []);
    const taxCents = before - taxOfTheRest({ ...taxed, tax: memo.taxDue }, []);
    return taxCents > 0 ? { credits: [], taxCents } : undefined;
  }
  const line = document.lines.find(
    ({ kind, amountCents }) => kind === memo.ofClass && amountCents > MIN_CENTS,
  );
  if (line === undefined) return undefined;
  const credits = [
    { key: line.key, amountCents: cents(Math.round(line.amountCents * memo.share)) },
  ];
  const answer = creditOn(taxed, [], credits);
  return answer.outcome === 'credited' ? { credits, taxCents: answer.taxCents } : undefined;
}

/** Less is not worth a memo. */
const MIN_CENTS = 1_000;

function taxedOf({ lines, inputs, stated }: JobBill) {
  return { lines, tax: inputs.tax, stated, work: inputs.options[0]?.work ?? [] };
}

interface ToWrite extends Back {
  totalCents: number;
  document: JobBill;
  kind: MemoOf['kind'];
}

function writeRows(pen: Pen, job: Job, invoice: Memoed, memo: ToWrite): void {
  const { id: invoiceId } = invoice;
  const { kind, totalCents, taxCents } = memo;
  const issuedAt = minutesAfter(invoice.issuedAt, 30);
  const id = pen.makeId(issuedAt);
  const number = pen.next('memo');
  const lines = linesOf(memo);
  const paper = paperOf(pen, job, invoice, { ...memo, number, issuedAt });
  const text = canonicalJson(paper);
  const contentHash = sha256(text);
  pen.add('credit_memo', {
    ...{ id, number, invoiceId, kind, reason: paper.reason, taxCents, totalCents },
    lineCount: lines.length,
    ...{ issuedAt, issuedById: pen.plan.owner.id, contentHash, paper: text },
  });
  for (const [at, { key, priceClass, description, amountCents }] of lines.entries()) {
    pen.add('credit_memo_line', {
      ...{ memoId: id, position: at + 1, document: 1 },
      ...{ key, priceClass, description, amountCents },
    });
  }
  addPaper(pen, job, issuedAt, { kind: 'credit_memo', number: String(number), memoId: id });
  const isSettled = totalCents === invoice.totalCents;
  if (isSettled) {
    pen.invoiceSteps.push({ step: 'money', invoiceId, state: 'settled', at: issuedAt });
  }
  const state = isSettled ? 'settled' : 'issued';
  pen.note(issuedAt, pen.plan.owner, {
    event: 'credit_memo.issued',
    subject: { kind: 'credit_memo', id },
    before: { state: 'issued' },
    after: { invoiceId, number, kind, taxCents, totalCents, contentHash, state },
  });
}

/** What is given back, named as the bill names it; the tax by its own key. */
function linesOf({ document, credits, taxCents }: ToWrite) {
  const back = [
    ...credits,
    ...(taxCents === 0 ? [] : [{ key: 'tax', amountCents: cents(taxCents) }]),
  ];
  return back.map(({ key, amountCents }) => {
    const line = document.lines.find((each) =>
      key === 'tax' ? each.kind === 'tax' : each.key === key,
    );
    if (line === undefined) throw new Error(`a bill has no line ${key}`);
    return { ...line, key, amountCents };
  });
}

/** In English alone, as memos of an earlier time are. */
function paperOf(
  { plan: { company } }: Pen,
  { number: ticketNumber, place }: Job,
  invoice: Memoed,
  memo: ToWrite & { number: number; issuedAt: Date },
): Omit<CreditMemoPaper, 'contentHash'> {
  const { document, taxCents, totalCents, issuedAt } = memo;
  const { stated } = document;
  const title = titleOf(document, company.timeZone);
  return {
    kind: 'credit_memo',
    language: 'en',
    company: paperCompany(company),
    memoNumber: String(memo.number),
    invoiceNumber: String(invoice.number),
    ticketNumber: String(ticketNumber),
    issuedAt: issuedAt.toISOString(),
    issuedText: localDayText(issuedAt, company.timeZone),
    payer: { name: place.approver.name },
    reason: REASONS[memo.kind],
    documents: [paperDocument({ position: 1, title, stated, lines: linesOf(memo), totalCents })],
    ...{ taxCents, totalCents },
    cautions: usualCautions.en,
  };
}

const REASONS: Record<MemoOf['kind'], string> = {
  goodwill: 'For the long wait.',
  correction: 'The tax was not what it should have been.',
};
